package dev.lengthwise.cache;

import dev.lengthwise.golden.ArrayClock;
import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.predecode.PipelineCut;
import java.util.Locale;
import java.util.Objects;

/**
 * The golden function of a {@link FetchUnit}, cycle by cycle.
 *
 * <p>Each call of {@link #cycle} gives the inputs of one cycle; the answers are those of the
 * outputs before the clock edge that ends it. Where lanes look at the bytes and where tags are
 * compared does not change any answer. Not safe for use by several threads.
 */
public final class FetchClock {

  private final FetchUnit unit;
  private final CacheClock cache;
  private final ArrayClock array;
  private final boolean waitsForNext;
  private final int windowBytes;

  /** What the lanes see: the window offered to them and, where they look there, the next. */
  private final byte[] seen;

  private long seenNumber;
  private boolean held;
  private boolean entering;
  private int entry;
  private int modes;

  private final Stage afterLanes;
  private final Stage afterMarks;

  private final byte[] shownWindow;
  private long shownNumber;
  private boolean shown;
  private ArrayClock.Marks marks;

  private long access;
  private boolean hit;
  private boolean miss;
  private boolean eviction;
  private boolean flushReady;
  private boolean requesting;
  private long request;

  /** The registers that go with the lanes' pipeline cuts. */
  private static final class Stage {
    private final byte[] window;
    private long number;
    private boolean live;

    Stage(int windowBytes) {
      window = new byte[windowBytes];
    }

    void take(byte[] from, long newNumber) {
      System.arraycopy(from, 0, window, 0, window.length);
      number = newNumber;
    }
  }

  /**
   * The inputs of a cycle but for the bytes from memory.
   *
   * @param stall 1: the marks stay as they are
   * @param redirect 1: the stream goes on at the address
   * @param redirectAddress a byte address
   * @param modes the modes at the target; mode i is bit i
   * @param flush 1: a flush is asked for
   * @param flushAll 1: of all lines, 0: of that of the address
   * @param flushAddress a byte address
   * @param requestReady 1: memory takes a request
   * @param beatValid 1: memory sends bytes
   */
  public record Inputs(
      boolean stall,
      boolean redirect,
      long redirectAddress,
      int modes,
      boolean flush,
      boolean flushAll,
      long flushAddress,
      boolean requestReady,
      boolean beatValid) {}

  private FetchClock(FetchUnit unit) {
    this.unit = unit;
    this.cache = new CacheClock(unit);
    this.array = ArrayClock.of(unit.row());
    this.waitsForNext = unit.waitsForNext();
    this.windowBytes = unit.row().windowBytes();
    this.seen = new byte[windowBytes * (waitsForNext ? 2 : 1)];
    this.afterLanes =
        unit.row().cuts().contains(PipelineCut.AFTER_LANES) ? new Stage(windowBytes) : null;
    this.afterMarks =
        unit.row().cuts().contains(PipelineCut.AFTER_MARKS) ? new Stage(windowBytes) : null;
    this.shownWindow = new byte[windowBytes];
  }

  /**
   * Compiles a fetch unit.
   *
   * @param unit the unit
   * @return its golden function, in the state after reset
   */
  public static FetchClock of(FetchUnit unit) {
    return new FetchClock(unit);
  }

  /**
   * Returns the unit.
   *
   * @return the unit
   */
  public FetchUnit unit() {
    return unit;
  }

  /**
   * Goes through a cycle.
   *
   * @param in the inputs
   * @param beat the bytes that memory sends, {@link FetchUnit#beatBytes()} of them, the lowest
   *     address first; not read unless {@link Inputs#beatValid()}
   * @return what the outputs say of a window; {@link #isShown()} tells whether they do
   * @throws IllegalArgumentException if a redirect has a mode that the table has not, an address is
   *     too wide, or memory sends fewer bytes than a beat
   */
  public ArrayClock.Marks cycle(Inputs in, byte[] beat) {
    Objects.requireNonNull(beat, "beat");
    check(in, beat);
    access = cache.asked();
    hit = cache.isHit();
    miss = cache.isMiss();
    eviction = cache.isEviction();
    flushReady = cache.isFlushReady();
    requesting = cache.isRequesting();
    request = cache.request();
    boolean offered = cache.isWindowValid() && (held || !waitsForNext);
    int from = waitsForNext ? windowBytes : 0;
    System.arraycopy(cache.window(), 0, seen, from, windowBytes);
    if (!waitsForNext) {
      seenNumber = cache.asked();
    }
    if (offered) {
      array.offer(modes, seen, 0, entering ? entry : ArrayModel.NO_REDIRECT);
    }
    marks = array.cycle(in.stall());
    boolean ready = waitsForNext ? !held || array.isReady() : array.isReady();
    show();
    if (waitsForNext) {
      boolean taken = cache.isWindowValid() && ready;
      edge(in, offered);
      if (taken) {
        System.arraycopy(cache.window(), 0, seen, 0, windowBytes);
        seenNumber = cache.asked();
      }
      held = !in.redirect() && (held || taken);
    } else {
      edge(in, offered);
    }
    cache.edge(in, beat, ready);
    return marks;
  }

  private void check(Inputs in, byte[] beat) {
    if (in.redirect()) {
      unit.row().lane().instructionSet().table().requireModes(in.modes());
      checkAddress("redirect", in.redirectAddress());
    }
    if (in.flush() && !in.flushAll()) {
      checkAddress("flush", in.flushAddress());
    }
    if (in.beatValid() && beat.length < unit.beatBytes()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "fetch unit %s: a beat must have %d bytes, found %d",
              unit.name(),
              unit.beatBytes(),
              beat.length));
    }
  }

  private void checkAddress(String what, long address) {
    int bits = unit.cache().geometry().addressBits();
    if (bits < Long.SIZE && address >>> bits != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "fetch unit %s: the address of a %s must have at most %d bits, found 0x%s",
              unit.name(),
              what,
              bits,
              Long.toHexString(address)));
    }
  }

  private void show() {
    shown = marks.isValid();
    byte[] bytes = seen;
    shownNumber = seenNumber;
    Stage last = afterMarks != null ? afterMarks : afterLanes;
    if (last != null) {
      shown &= last.live;
      bytes = last.window;
      shownNumber = last.number;
    }
    System.arraycopy(bytes, 0, shownWindow, 0, windowBytes);
  }

  private void edge(Inputs in, boolean offered) {
    if (afterMarks != null) {
      boolean live = afterLanes == null || afterLanes.live;
      if (!in.stall()) {
        afterMarks.take(
            afterLanes == null ? seen : afterLanes.window,
            afterLanes == null ? seenNumber : afterLanes.number);
        afterMarks.live = live;
      }
      afterMarks.live &= !in.redirect();
    }
    if (afterLanes != null) {
      if (array.isReady()) {
        afterLanes.take(seen, seenNumber);
        afterLanes.live = true;
      }
      afterLanes.live &= !in.redirect();
    }
    entering = in.redirect() || (entering && (!offered || in.stall()));
    if (in.redirect()) {
      entry = (int) in.redirectAddress() & (windowBytes - 1);
      modes = in.modes();
    }
  }

  /**
   * Tells whether the outputs speak of a window.
   *
   * @return the output {@code marks_valid}
   */
  public boolean isShown() {
    return shown;
  }

  /**
   * Returns the bytes of the window that the outputs speak of.
   *
   * @return the output {@code window}; the array is filled again by the next cycle
   */
  public byte[] window() {
    return shownWindow;
  }

  /**
   * Returns the address of the window that the outputs speak of.
   *
   * @return the output {@code window_address}
   */
  public long windowAddress() {
    return shownNumber * windowBytes;
  }

  /**
   * Tells whether the outputs of the marks' state are fixed.
   *
   * @return as {@link ArrayClock#isStateKnown()}
   */
  public boolean isStateKnown() {
    return array.isStateKnown();
  }

  /**
   * Returns the output {@code carry}.
   *
   * @return as {@link ArrayClock#carry()}
   */
  public int carry() {
    return array.carry();
  }

  /**
   * Returns the output {@code changed_modes}.
   *
   * @return as {@link ArrayClock#changedModes()}
   */
  public int changedModes() {
    return array.changedModes();
  }

  /**
   * Tells the output {@code waiting}.
   *
   * @return as {@link ArrayClock#isWaiting()}
   */
  public boolean isWaiting() {
    return array.isWaiting();
  }

  /**
   * Tells whether an access found its window.
   *
   * @return the output {@code access_hit}
   */
  public boolean isHit() {
    return hit;
  }

  /**
   * Tells whether an access did not find its window and starts a fill.
   *
   * @return the output {@code access_miss}
   */
  public boolean isMiss() {
    return miss;
  }

  /**
   * Tells whether a valid line leaves for the one that missed.
   *
   * @return the output {@code access_evicts}
   */
  public boolean isEviction() {
    return eviction;
  }

  /**
   * Returns the address of the access that {@link #isHit()} or {@link #isMiss()} tells of.
   *
   * @return that of the window's first byte
   */
  public long accessAddress() {
    return access * windowBytes;
  }

  /**
   * Tells whether a flush that is asked for is taken over.
   *
   * @return the output {@code flush_ready}
   */
  public boolean isFlushReady() {
    return flushReady;
  }

  /**
   * Tells whether a line is asked for.
   *
   * @return the output {@code request_valid}
   */
  public boolean isRequesting() {
    return requesting;
  }

  /**
   * Returns the address of the first window wanted.
   *
   * @return the output {@code request_address}; meaningless unless {@link #isRequesting()}
   */
  public long requestAddress() {
    return request * windowBytes;
  }

  /**
   * Tells whether beats are taken in the next cycle.
   *
   * @return true from the cycle that takes a request to that which takes its last beat
   */
  public boolean isFilling() {
    return cache.isFilling() && !cache.isRequesting();
  }
}

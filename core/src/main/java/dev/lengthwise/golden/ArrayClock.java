package dev.lengthwise.golden;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import java.util.Arrays;
import java.util.Locale;
import java.util.Objects;

/**
 * The golden function of a lane array, cycle by cycle: {@link ArrayModel} behind the array's
 * pipeline cuts or pipeline, with gaps between windows, stalls, and windows offered again.
 *
 * <p>Each call of {@link #cycle} gives the inputs of one cycle; the answers are those of the
 * outputs before the clock edge that ends it. Nothing is allocated by it. Not safe for use by
 * several threads.
 */
public final class ArrayClock {

  private final ArrayModel model;
  private final boolean lanesCut;
  private final boolean marksCut;
  private final int seen;
  private final Marks marks;
  private final Marks registered;

  private final byte[] heldBytes;
  private boolean heldValid;
  private int heldModes;
  private int heldRedirect;

  /** What is between the inputs and the outputs if marks are by entry; else none. */
  private final Slot[] flight;

  private int oldest;

  private boolean ready;
  private boolean readyKnown;
  private boolean stateKnown = true;
  private int carry;
  private int changedModes;
  private boolean waiting;

  /** A window on its way through a pipeline, and the state behind it. */
  private static final class Slot {

    private final Marks marks;
    private boolean stateKnown = true;
    private int carry;
    private int changedModes;
    private boolean waiting = true;

    private Slot(int most) {
      this.marks = new Marks(most);
      marks.clear(true);
    }

    private void state(ArrayModel model) {
      stateKnown = model.isStateKnown();
      carry = model.carry();
      changedModes = model.changedModes();
      waiting = model.isWaiting();
    }
  }

  /** What the outputs say of a window. */
  public static final class Marks {

    private boolean valid;
    private boolean known;
    private int starts;
    private int count;
    private final int[] positions;
    private final int[] lengths;
    private int notHandled;

    private Marks(int most) {
      this.positions = new int[most];
      this.lengths = new int[most];
    }

    private void read(ArrayModel model) {
      valid = true;
      known = model.isKnown();
      starts = model.starts();
      count = model.count();
      for (int i = 0; i < count; i++) {
        positions[i] = model.position(i);
        lengths[i] = model.length(i);
      }
      notHandled = model.notHandled();
    }

    private void clear(boolean stateKnown) {
      valid = false;
      known = stateKnown;
      count = 0;
    }

    private void copy(Marks other) {
      valid = other.valid;
      known = other.known;
      starts = other.starts;
      count = other.count;
      System.arraycopy(other.positions, 0, positions, 0, count);
      System.arraycopy(other.lengths, 0, lengths, 0, count);
      notHandled = other.notHandled;
    }

    private int check(int index) {
      if (index < 0 || index >= count) {
        throw new IndexOutOfBoundsException(
            String.format(
                Locale.ROOT, "marks: an item must be in [0, %d), found %d", count, index));
      }
      return index;
    }

    /**
     * Tells whether the outputs speak of a window.
     *
     * @return the output {@code marks_valid}
     */
    public boolean isValid() {
      return valid;
    }

    /**
     * Tells whether the answers are fixed.
     *
     * @return false behind an item whose lane may say anything, until a redirect; then nothing of
     *     the outputs is fixed
     */
    public boolean isKnown() {
      return known;
    }

    /**
     * Returns the start bits.
     *
     * @return as {@link ArrayModel#starts()}
     */
    public int starts() {
      return starts;
    }

    /**
     * Returns the number of items given a length.
     *
     * @return as {@link ArrayModel#count()}
     */
    public int count() {
      return count;
    }

    /**
     * Returns where an item starts.
     *
     * @param index in [0, {@link #count()})
     * @return as {@link ArrayModel#position}
     * @throws IndexOutOfBoundsException if out of range
     */
    public int position(int index) {
      return positions[check(index)];
    }

    /**
     * Returns the length of an item.
     *
     * @param index in [0, {@link #count()})
     * @return as {@link ArrayModel#length}
     * @throws IndexOutOfBoundsException if out of range
     */
    public int length(int index) {
      return lengths[check(index)];
    }

    /**
     * Returns where the first item starts that is not handled.
     *
     * @return as {@link ArrayModel#notHandled()}
     */
    public int notHandled() {
      return notHandled;
    }
  }

  // The window that was offered last.
  private boolean offered;
  private int modes;
  private byte[] memory = {};
  private int offset;
  private int redirect = ArrayModel.NO_REDIRECT;

  private ArrayClock(LaneArray array) {
    this.model = ArrayModel.of(array);
    this.lanesCut = array.cuts().contains(PipelineCut.AFTER_LANES);
    this.marksCut = array.cuts().contains(PipelineCut.AFTER_MARKS);
    this.seen = array.windowBytes() + array.nextBytes();
    this.marks = new Marks(array.windowBytes());
    this.registered = new Marks(array.windowBytes());
    registered.clear(true);
    this.heldBytes = new byte[seen];
    this.flight = new Slot[array.entryPlan().isPresent() ? array.latency() : 0];
    Arrays.setAll(flight, i -> new Slot(array.windowBytes()));
  }

  /**
   * Compiles an array.
   *
   * @param array the array
   * @return its golden function, in the state after reset
   */
  public static ArrayClock of(LaneArray array) {
    return new ArrayClock(Objects.requireNonNull(array, "array"));
  }

  /**
   * Offers a window in the next cycle.
   *
   * @param modes the modes before any prefix; mode i is bit i
   * @param memory the bytes; those past its end read as 0
   * @param offset where the window's first byte is, at least 0
   * @param redirect where the first instruction starts, in [0, windowBytes), or {@link
   *     ArrayModel#NO_REDIRECT}
   * @throws IllegalArgumentException if there is no such mode or the redirect is out of range
   * @throws IndexOutOfBoundsException if the offset is negative
   */
  public void offer(int modes, byte[] memory, int offset, int redirect) {
    Objects.requireNonNull(memory, "memory");
    model.check(modes, offset, redirect);
    this.offered = true;
    this.modes = modes;
    this.memory = memory;
    this.offset = offset;
    this.redirect = redirect;
  }

  /**
   * Goes through a cycle, with the window that was offered since the last one, or without.
   *
   * @param stall whether all registers keep their values
   * @return the outputs; the object is filled again by the next call
   */
  public Marks cycle(boolean stall) {
    boolean valid = offered;
    offered = false;
    if (flight.length > 0) {
      pipelined(valid, stall);
      return marks;
    }
    carry = model.carry();
    changedModes = model.changedModes();
    waiting = model.isWaiting();
    stateKnown = model.isStateKnown();
    boolean redirects = valid && redirect != ArrayModel.NO_REDIRECT;
    boolean marking = lanesCut ? heldValid : valid;
    if (marking && lanesCut) {
      model.look(heldModes, heldBytes, 0, heldRedirect);
    } else if (marking) {
      model.look(modes, memory, offset, redirect);
    }
    boolean done = model.isUsed();
    readyKnown = stateKnown && (!marking || model.isKnown());
    ready = !stall && (lanesCut ? !heldValid || done || redirects : !valid || done);
    if (marksCut) {
      marks.copy(registered);
    } else if (marking) {
      marks.read(model);
    } else {
      marks.clear(stateKnown);
    }
    if (!stall) {
      edge(marking, valid);
    }
    return marks;
  }

  /** A cycle of a pipeline that takes a window in each and tells the state with the marks. */
  private void pipelined(boolean valid, boolean stall) {
    Slot slot = flight[oldest];
    marks.copy(slot.marks);
    stateKnown = slot.stateKnown;
    carry = slot.carry;
    changedModes = slot.changedModes;
    waiting = slot.waiting;
    ready = !stall;
    readyKnown = true;
    if (stall) {
      return;
    }
    if (valid) {
      model.look(modes, memory, offset, redirect);
      slot.marks.read(model);
      model.accept();
    } else {
      slot.marks.clear(true);
    }
    slot.state(model);
    oldest = (oldest + 1) % flight.length;
  }

  private void edge(boolean marking, boolean valid) {
    if (marking) {
      registered.read(model);
      model.accept();
    } else {
      registered.clear(stateKnown);
    }
    if (lanesCut && ready) {
      heldValid = valid;
      heldModes = modes;
      heldRedirect = redirect;
      int inside = Math.max(0, Math.min(seen, memory.length - offset));
      System.arraycopy(memory, Math.min(offset, memory.length), heldBytes, 0, inside);
      Arrays.fill(heldBytes, inside, seen, (byte) 0);
    } else if (lanesCut) {
      heldRedirect = ArrayModel.NO_REDIRECT;
    }
  }

  /**
   * Tells whether the window offered is taken at the clock edge.
   *
   * @return the output {@code ready} while a window is offered; if it is false, the window is
   *     offered again without redirect
   */
  public boolean isReady() {
    return ready;
  }

  /**
   * Tells whether {@link #isReady()} is fixed.
   *
   * @return false if that depends on an item whose lane may say anything
   */
  public boolean isReadyKnown() {
    return readyKnown;
  }

  /**
   * Tells whether the outputs of the state are fixed.
   *
   * @return false behind an item on whose lane may say anything, until a redirect
   */
  public boolean isStateKnown() {
    return stateKnown;
  }

  /**
   * Returns the output {@code carry}.
   *
   * @return as {@link ArrayModel#carry()}
   */
  public int carry() {
    return carry;
  }

  /**
   * Returns the output {@code changed_modes}.
   *
   * @return as {@link ArrayModel#changedModes()}
   */
  public int changedModes() {
    return changedModes;
  }

  /**
   * Tells the output {@code waiting}.
   *
   * @return as {@link ArrayModel#isWaiting()}
   */
  public boolean isWaiting() {
    return waiting;
  }
}

package dev.lengthwise.cache;

import java.util.Arrays;

/** The cache of a {@link FetchUnit} cycle by cycle, up to the windows that it offers. */
final class CacheClock {

  private static final long NO_TAG = -1;

  private final CacheGeometry geometry;
  private final boolean criticalFirst;
  private final int beatBytes;
  private final int ways;
  private final int windowBytes;
  private final int lineWindows;
  private final int windowBits;
  private final int indexBits;
  private final long numbers;
  private final long[] tags;
  private final boolean[] valid;
  private final byte[] data;
  private final ReplacementState replacement;

  private long fetch;
  private boolean fetching;

  private long asked;
  private boolean askedValid;
  private boolean askedFresh;
  private boolean askedBusy;
  private int askedWay = -1;
  private int askedValidWays;
  private final byte[] window;

  private boolean flushPending;
  private boolean flushLooked;
  private boolean flushWhole;
  private long flushLine;

  private boolean filling;
  private boolean requesting;
  private long fillLine;
  private int fillWay;
  private int fillWindow;
  private int fillBytes;
  private long arrived;

  CacheClock(FetchUnit unit) {
    this.geometry = unit.cache().geometry();
    this.criticalFirst = unit.order() == FillOrder.CRITICAL_FIRST;
    this.beatBytes = unit.beatBytes();
    this.ways = geometry.ways();
    this.windowBytes = geometry.windowBytes();
    this.lineWindows = geometry.lineWindows();
    this.windowBits = Integer.numberOfTrailingZeros(lineWindows);
    this.indexBits = geometry.index().width();
    this.numbers = -1L >>> (Long.SIZE - unit.windowNumberBits());
    this.tags = new long[geometry.lines()];
    Arrays.fill(tags, NO_TAG);
    this.valid = new boolean[geometry.lines()];
    this.data = new byte[geometry.capacityBytes()];
    this.replacement = ReplacementState.of(unit.cache().replacement(), geometry.sets(), ways);
    this.window = new byte[windowBytes];
  }

  // The outputs of a cycle, before the edge that ends it.

  /** Tells whether a window is offered. */
  boolean isWindowValid() {
    return askedValid && askedWay >= 0;
  }

  /** Returns the bytes of the window offered; not a copy. */
  byte[] window() {
    return window;
  }

  /** Returns the number of the window offered or missed. */
  long asked() {
    return asked;
  }

  boolean isHit() {
    return isWindowValid() && askedFresh;
  }

  boolean isMiss() {
    return askedValid && askedWay < 0 && !askedBusy;
  }

  boolean isEviction() {
    return isMiss() && isFull();
  }

  private boolean isFull() {
    return askedValidWays == (1 << ways) - 1;
  }

  boolean isFlushReady() {
    return !flushPending;
  }

  boolean isRequesting() {
    return requesting;
  }

  /** Returns the number of the first window that memory shall send. */
  long request() {
    return fillLine << windowBits | fillWindow;
  }

  boolean isFilling() {
    return filling;
  }

  /** Gives the edge that ends the cycle; {@code ready} tells whether a window offered is taken. */
  void edge(FetchClock.Inputs in, byte[] beat, boolean ready) {
    boolean offered = isWindowValid();
    boolean held = offered && !ready;
    boolean again = askedValid && !offered;
    boolean advances = fetching && !held && !again && !flushPending;
    boolean flushTaken = in.flush() && !flushPending;
    boolean looksForFlush = flushPending && !flushLooked && !filling;
    boolean misses = isMiss();
    boolean full = isFull();
    long oldAsked = asked;
    int oldWay = askedWay;
    int oldValidWays = askedValidWays;
    if (isHit()) {
      replacement.hit(index(oldAsked), oldWay);
    }
    // The RAMs yield what was in them before the edge; no word that it writes is used.
    if (!held) {
      lookUp(flushPending ? flushLine << windowBits : fetch);
    }
    askedFresh = !held;
    askedValid = !in.redirect() && !flushTaken && (held || advances);
    if (flushLooked) {
      flush(oldAsked, oldWay);
    }
    if (filling) {
      fill(in, beat);
    } else if (misses) {
      start(oldAsked, full ? replacement.victim(index(oldAsked)) : lowest(oldValidWays));
    }
    fetch = next(in, oldAsked, again || (flushTaken && held), advances && !flushTaken);
    fetching |= in.redirect();
    flushPending = flushTaken || (flushPending && !flushLooked);
    flushLooked = looksForFlush;
    if (flushTaken) {
      flushWhole = in.flushAll();
      flushLine = in.flushAddress() >>> geometry.offset().width();
    }
  }

  private long next(FetchClock.Inputs in, long dropped, boolean again, boolean advances) {
    if (in.redirect()) {
      return in.redirectAddress() >>> (geometry.offset().width() - windowBits);
    }
    return again ? dropped : advances ? (fetch + 1) & numbers : fetch;
  }

  private int index(long number) {
    return (int) (number >>> windowBits) & ((1 << indexBits) - 1);
  }

  private long tag(long number) {
    return number >>> windowBits >>> indexBits;
  }

  private void lookUp(long number) {
    int set = index(number);
    int at = (int) number & (lineWindows - 1);
    asked = number;
    askedBusy = filling;
    askedWay = -1;
    askedValidWays = 0;
    for (int way = 0; way < ways; way++) {
      int line = set * ways + way;
      boolean came = filling && way == fillWay && set == fillSet() && (arrived >>> at & 1) != 0;
      if (valid[line] || came) {
        askedValidWays |= 1 << way;
        if (tags[line] == tag(number)) {
          askedWay = way;
          System.arraycopy(data, byteAt(line, at), window, 0, windowBytes);
        }
      }
    }
  }

  private int byteAt(int line, int at) {
    return line * geometry.lineBytes() + at * windowBytes;
  }

  private int fillSet() {
    return (int) fillLine & ((1 << indexBits) - 1);
  }

  private static int lowest(int validWays) {
    return Integer.numberOfTrailingZeros(~validWays);
  }

  private void flush(long number, int way) {
    if (flushWhole) {
      Arrays.fill(valid, false);
    } else if (way >= 0) {
      valid[index(number) * ways + way] = false;
    }
  }

  private void start(long number, int way) {
    int line = index(number) * ways + way;
    tags[line] = tag(number);
    valid[line] = false;
    replacement.filled(index(number), way);
    filling = true;
    requesting = true;
    fillLine = number >>> windowBits;
    fillWay = way;
    fillWindow = criticalFirst ? (int) number & (lineWindows - 1) : 0;
    fillBytes = 0;
    arrived = 0;
  }

  private void fill(FetchClock.Inputs in, byte[] beat) {
    if (requesting) {
      requesting = !in.requestReady();
    } else if (in.beatValid()) {
      int line = fillSet() * ways + fillWay;
      // A window that is not whole yet is out of reach, so its bytes can go to their place at once.
      System.arraycopy(beat, 0, data, byteAt(line, fillWindow) + fillBytes, beatBytes);
      fillBytes += beatBytes;
      if (fillBytes == windowBytes) {
        fillBytes = 0;
        arrived |= 1L << fillWindow;
        fillWindow = (fillWindow + 1) & (lineWindows - 1);
        filling = Long.bitCount(arrived) < lineWindows;
        valid[line] = !filling;
      }
    }
  }
}

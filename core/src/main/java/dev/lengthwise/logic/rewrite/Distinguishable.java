package dev.lengthwise.logic.rewrite;

/**
 * Tells whether some signals tell an on-set from an off-set: whether one LUT of them can be 1 on
 * the one and 0 on the other.
 */
final class Distinguishable {

  private final int words;
  private final long[][] stack;
  private int onPoint;
  private int offPoint;

  Distinguishable(int words, int mostSignals) {
    this.words = words;
    this.stack = new long[2 * (mostSignals + 1)][words];
  }

  /** Returns whether no on-point and off-point agree on all signals. */
  boolean separates(long[] on, long[] off, long[][] signals, int count) {
    return separates(on, off, signals, count, 0);
  }

  private boolean separates(long[] on, long[] off, long[][] signals, int count, int depth) {
    long anyOn = 0;
    long anyOff = 0;
    for (int w = 0; w < words; w++) {
      anyOn |= on[w];
      anyOff |= off[w];
    }
    if (anyOn == 0 || anyOff == 0) {
      return true;
    }
    if (depth == count) {
      onPoint = first(on);
      offPoint = first(off);
      return false;
    }
    long[] nextOn = stack[2 * depth];
    long[] nextOff = stack[2 * depth + 1];
    long[] signal = signals[depth];
    for (int w = 0; w < words; w++) {
      nextOn[w] = on[w] & signal[w];
      nextOff[w] = off[w] & signal[w];
    }
    if (!separates(nextOn, nextOff, signals, count, depth + 1)) {
      return false;
    }
    for (int w = 0; w < words; w++) {
      nextOn[w] = on[w] & ~signal[w];
      nextOff[w] = off[w] & ~signal[w];
    }
    return separates(nextOn, nextOff, signals, count, depth + 1);
  }

  private static int first(long[] points) {
    int w = 0;
    while (points[w] == 0) {
      w++;
    }
    return 64 * w + Long.numberOfTrailingZeros(points[w]);
  }

  /** Returns the on-point of a pair that the signals of the last failed test do not tell apart. */
  int onPoint() {
    return onPoint;
  }

  /** Returns the off-point of that pair. */
  int offPoint() {
    return offPoint;
  }

  /**
   * Returns the table of a LUT that separates; entries that no point needs come from {@code fill}.
   */
  long[] table(long[] on, long[] off, long[][] signals, int count, long[] fill) {
    int size = 1 << count;
    long[] table = new long[Math.max(1, size >> 6)];
    for (int index = 0; index < size; index++) {
      long anyOn = 0;
      long anyOff = 0;
      for (int w = 0; w < words; w++) {
        long here = -1L;
        for (int k = 0; k < count; k++) {
          here &= (index >> k & 1) != 0 ? signals[k][w] : ~signals[k][w];
        }
        anyOn |= on[w] & here;
        anyOff |= off[w] & here;
      }
      boolean free = anyOn == 0 && anyOff == 0;
      if (anyOn != 0 || (free && (fill[index >> 6] >>> index & 1) != 0)) {
        table[index >> 6] |= 1L << index;
      }
    }
    return table;
  }
}

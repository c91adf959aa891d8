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
    if (isEmpty(on) || isEmpty(off)) {
      return true;
    }
    if (depth == count) {
      onPoint = first(on);
      offPoint = first(off);
      return false;
    }
    long[] signal = signals[depth];
    if (depth == count - 1) {
      return separates(on, off, signal, 0) && separates(on, off, signal, -1);
    }
    long[] nextOn = stack[2 * depth];
    long[] nextOff = stack[2 * depth + 1];
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

  /** Looks at the points at which the last signal is 1, or with a flip of -1 those at which 0. */
  private boolean separates(long[] on, long[] off, long[] signal, long flip) {
    int onWord = 0;
    while (onWord < words && (on[onWord] & (signal[onWord] ^ flip)) == 0) {
      onWord++;
    }
    int offWord = 0;
    while (onWord < words && offWord < words && (off[offWord] & (signal[offWord] ^ flip)) == 0) {
      offWord++;
    }
    if (onWord == words || offWord == words) {
      return true;
    }
    onPoint = 64 * onWord + Long.numberOfTrailingZeros(on[onWord] & (signal[onWord] ^ flip));
    offPoint = 64 * offWord + Long.numberOfTrailingZeros(off[offWord] & (signal[offWord] ^ flip));
    return false;
  }

  private boolean isEmpty(long[] points) {
    int w = 0;
    while (w < words && points[w] == 0) {
      w++;
    }
    return w == words;
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
    long[] table = new long[Math.max(1, (1 << count) >> 6)];
    fill(new Filled(signals, count, fill, table), on, off, 0, 0);
    return table;
  }

  /** A table on the way: what it reads, and the entries of those that no point needs. */
  // Private and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  private record Filled(long[][] signals, int count, long[] fill, long[] table) {}

  /** Fills in the entries whose first {@code depth} inputs are those of an index. */
  private void fill(Filled filled, long[] on, long[] off, int depth, int index) {
    long anyOn = 0;
    long anyOff = 0;
    for (int w = 0; w < words; w++) {
      anyOn |= on[w];
      anyOff |= off[w];
    }
    if (depth == filled.count || (anyOn | anyOff) == 0) {
      for (int entry = index; entry < 1 << filled.count; entry += 1 << depth) {
        boolean free = (anyOn | anyOff) == 0;
        if (anyOn != 0 || (free && (filled.fill[entry >> 6] >>> entry & 1) != 0)) {
          filled.table[entry >> 6] |= 1L << entry;
        }
      }
      return;
    }
    long[] nextOn = stack[2 * depth];
    long[] nextOff = stack[2 * depth + 1];
    long[] signal = filled.signals[depth];
    for (int w = 0; w < words; w++) {
      nextOn[w] = on[w] & signal[w];
      nextOff[w] = off[w] & signal[w];
    }
    fill(filled, nextOn, nextOff, depth + 1, index | 1 << depth);
    for (int w = 0; w < words; w++) {
      nextOn[w] = on[w] & ~signal[w];
      nextOff[w] = off[w] & ~signal[w];
    }
    fill(filled, nextOn, nextOff, depth + 1, index);
  }
}

package dev.lengthwise.logic.rewrite;

/**
 * Pairs of points, on and off, that the fan-ins kept so far do not tell apart: most signals fail on
 * one seen before.
 */
final class PointPairs {

  /** A bit of a word for each. */
  private static final int MOST = 64;

  private final EditableNetwork net;
  private final Distinguishable split;
  private final int[] points = new int[2 * MOST];
  private int count;

  /**
   * Prepares for pairs.
   *
   * @param net has the values of the signals
   * @param split says on which pair its last test failed
   */
  PointPairs(EditableNetwork net, Distinguishable split) {
    this.net = net;
    this.split = split;
  }

  /** Forgets all pairs. */
  void clear() {
    count = 0;
  }

  /** Keeps the pair that the last test failed on; false if there is no room. */
  boolean note() {
    if (count == MOST) {
      return false;
    }
    points[2 * count] = split.onPoint();
    points[2 * count + 1] = split.offPoint();
    count++;
    return true;
  }

  /** Tells whether a signal tells all pairs apart. */
  boolean areToldApartBy(int signal) {
    for (int i = 0; i < count; i++) {
      if (!tells(signal, i)) {
        return false;
      }
    }
    return true;
  }

  /** Returns the pairs that a signal tells apart, a bit each. */
  long toldApart(int signal) {
    long told = 0;
    for (int i = 0; i < count; i++) {
      told |= tells(signal, i) ? 1L << i : 0;
    }
    return told;
  }

  /** Adds the bit of the last pair to what each of some signals tells apart. */
  void addLast(long[] told, int[] signals, int signalCount) {
    for (int k = 0; k < signalCount; k++) {
      told[k] |= tells(signals[k], count - 1) ? 1L << (count - 1) : 0;
    }
  }

  /** Returns the bits of all pairs. */
  long all() {
    return count == MOST ? -1L : (1L << count) - 1;
  }

  private boolean tells(int signal, int pair) {
    long[] value = net.values[signal];
    int a = points[2 * pair];
    int b = points[2 * pair + 1];
    return (value[a >> 6] >>> a & 1) != (value[b >> 6] >>> b & 1);
  }
}

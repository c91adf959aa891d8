package dev.lengthwise.logic.covering;

/** Sets of small integers as words, for the inner loops of the covering solver. */
final class BitSet64 {

  private BitSet64() {}

  static long[] none(int size) {
    return new long[(size + 63) >> 6];
  }

  static long[] all(int size) {
    long[] set = none(size);
    for (int i = 0; i < size; i++) {
      set(set, i);
    }
    return set;
  }

  static void set(long[] set, int i) {
    set[i >> 6] |= 1L << i;
  }

  static void clear(long[] set, int i) {
    set[i >> 6] &= ~(1L << i);
  }

  static boolean has(long[] set, int i) {
    return (set[i >> 6] >>> i & 1) != 0;
  }

  static boolean isEmpty(long[] set) {
    for (long word : set) {
      if (word != 0) {
        return false;
      }
    }
    return true;
  }

  static int count(long[] set) {
    int count = 0;
    for (long word : set) {
      count += Long.bitCount(word);
    }
    return count;
  }

  static int countBoth(long[] a, long[] b) {
    int count = 0;
    for (int w = 0; w < a.length; w++) {
      count += Long.bitCount(a[w] & b[w]);
    }
    return count;
  }

  static boolean meet(long[] a, long[] b) {
    for (int w = 0; w < a.length; w++) {
      if ((a[w] & b[w]) != 0) {
        return true;
      }
    }
    return false;
  }

  static void keep(long[] set, long[] kept) {
    for (int w = 0; w < set.length; w++) {
      set[w] &= kept[w];
    }
  }

  static void drop(long[] set, long[] dropped) {
    for (int w = 0; w < set.length; w++) {
      set[w] &= ~dropped[w];
    }
  }

  /** Returns the smallest member that is at least {@code from}, or -1. */
  static int next(long[] set, int from) {
    int w = from >> 6;
    if (w >= set.length) {
      return -1;
    }
    long word = set[w] & (-1L << from);
    while (word == 0) {
      if (++w == set.length) {
        return -1;
      }
      word = set[w];
    }
    return (w << 6) + Long.numberOfTrailingZeros(word);
  }

  /** Returns the smallest member of both sets that is at least {@code from}, or -1. */
  static int nextBoth(long[] a, long[] b, int from) {
    int w = from >> 6;
    if (w >= a.length) {
      return -1;
    }
    long word = a[w] & b[w] & (-1L << from);
    while (word == 0) {
      if (++w == a.length) {
        return -1;
      }
      word = a[w] & b[w];
    }
    return (w << 6) + Long.numberOfTrailingZeros(word);
  }
}

package dev.lengthwise.logic.words;

/** Bit-parallel evaluation: 64 points in a {@code long}, as the package page packs them. */
public final class PointWords {

  /** Word i is input i over the 64 points of a word, for the six inputs that vary within it. */
  private static final long[] VARIABLES = {
    0xaaaaaaaaaaaaaaaaL,
    0xccccccccccccccccL,
    0xf0f0f0f0f0f0f0f0L,
    0xff00ff00ff00ff00L,
    0xffff0000ffff0000L,
    0xffffffff00000000L
  };

  private PointWords() {}

  /** Returns the word of one input over points [64 * word, 64 * word + 64). */
  public static long variable(int input, long word) {
    return input < 6 ? VARIABLES[input] : -(word >>> (input - 6) & 1);
  }

  /** Returns the words of all inputs over points [64 * word, 64 * word + 64). */
  public static long[] points(int inputs, long word) {
    long[] result = new long[inputs];
    for (int i = 0; i < inputs; i++) {
      result[i] = variable(i, word);
    }
    return result;
  }

  /**
   * Evaluates a table as a tree of multiplexers over its fan-ins.
   *
   * @param table the packed table
   * @param fanIns indices into {@code signals}
   * @param signals one word a signal
   * @param scratch at least 2^(fan-ins - 1) words, overwritten
   */
  public static long evaluate(long[] table, int[] fanIns, long[] signals, long[] scratch) {
    if (fanIns.length == 0) {
      return -(table[0] & 1);
    }
    long first = signals[fanIns[0]];
    int width = 1 << (fanIns.length - 1);
    for (int i = 0; i < width; i++) {
      int pair = (int) (table[i >> 5] >>> (i << 1)) & 3;
      scratch[i] = pair == 0 ? 0L : pair == 1 ? ~first : pair == 2 ? first : -1L;
    }
    for (int v = 1; v < fanIns.length; v++) {
      long select = signals[fanIns[v]];
      width >>= 1;
      for (int i = 0; i < width; i++) {
        long low = scratch[2 * i];
        scratch[i] = low ^ (select & (low ^ scratch[2 * i + 1]));
      }
    }
    return scratch[0];
  }
}

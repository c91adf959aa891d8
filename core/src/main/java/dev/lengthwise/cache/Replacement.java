package dev.lengthwise.cache;

/**
 * Which line of a full set leaves when another comes. A set that is not full takes the line in its
 * lowest way that is not valid, whatever the choice.
 *
 * <p>The state of a set needs no reset, and a flush keeps it: it is asked only when every way has
 * been filled, and those fills have overwritten all of it.
 */
public enum Replacement {
  /**
   * The line not used for longest. Kept as a bit for each pair of ways, which says the one used
   * later: an access writes the bits of its way's pairs to constants, without counting.
   */
  LRU("lru"),
  /**
   * A binary tree over the ways; each node points to the half that was not used last, and the
   * pointers lead to the line that leaves. Ways must be a power of two.
   */
  TREE_PLRU("tree_plru"),
  /** The line that came first; a pointer goes to the way behind the one filled last. */
  FIFO("fifo"),
  /**
   * A way chosen by a shift register of {@value #LFSR_BITS} bits for the whole cache, x^16 + x^15 +
   * x^13 + x^4 + 1, which moves one bit at each fill of a full set. Bit i of the way is its bit 4i;
   * a way that does not exist loses its highest bit, so lower ways leave more often unless ways are
   * a power of two.
   */
  RANDOM("random");

  /** The bits of the shift register of {@link #RANDOM}. */
  public static final int LFSR_BITS = 16;

  private final String label;

  Replacement(String label) {
    this.label = label;
  }

  /**
   * Returns the name in tables and emitted heads.
   *
   * @return lower snake case
   */
  public String label() {
    return label;
  }

  /**
   * Tells whether a number of ways is possible.
   *
   * @param ways in [1, {@value CacheGeometry#MOST_WAYS}]
   * @return false only for {@link #TREE_PLRU} and no power of two
   */
  public boolean fits(int ways) {
    return this != TREE_PLRU || Integer.bitCount(ways) == 1;
  }

  /**
   * Returns the state kept for each set.
   *
   * @param ways in [1, {@value CacheGeometry#MOST_WAYS}]
   * @return bits: ways (ways - 1) / 2 for LRU, ways - 1 for the tree, log2 of the ways, rounded up,
   *     for FIFO, none for random
   */
  public int stateBits(int ways) {
    return switch (this) {
      case LRU -> ways * (ways - 1) / 2;
      case TREE_PLRU -> ways - 1;
      case FIFO -> wayBits(ways);
      case RANDOM -> 0;
    };
  }

  /** Returns the bits of a way's number. */
  static int wayBits(int ways) {
    return Integer.SIZE - Integer.numberOfLeadingZeros(ways - 1);
  }
}

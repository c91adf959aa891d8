package dev.lengthwise.golden;

/**
 * What the golden model says of a place in memory.
 *
 * <p>{@link GoldenModel#lengthAt} packs an outcome into an {@code int}: a length is positive, every
 * other outcome is 0 or negative.
 */
public enum Outcome {
  /** An instruction starts here and has a length. */
  LENGTH(1),
  /** The opcode is defined in no map. */
  UNDEFINED(0),
  /** The instruction goes on past the last byte given. */
  TOO_FEW_BYTES(-1),
  /** More prefixes stand before the opcode than the rules allow. */
  TOO_MANY_PREFIXES(-2),
  /** The instruction, its prefixes counted, is longer than the longest legal one. */
  TOO_LONG(-3);

  private final int packed;

  Outcome(int packed) {
    this.packed = packed;
  }

  /** Returns how {@link GoldenModel#lengthAt} packs an outcome other than {@link #LENGTH}. */
  int packed() {
    return packed;
  }

  /**
   * Returns the outcome in a packed result.
   *
   * @param packed a result of {@link GoldenModel#lengthAt}
   * @return {@link #LENGTH} if it is positive
   * @throws IllegalArgumentException if it is no such result
   */
  public static Outcome of(int packed) {
    if (packed > 0) {
      return LENGTH;
    }
    return switch (packed) {
      case 0 -> UNDEFINED;
      case -1 -> TOO_FEW_BYTES;
      case -2 -> TOO_MANY_PREFIXES;
      case -3 -> TOO_LONG;
      default ->
          throw new IllegalArgumentException(
              "outcome: a result of the golden model is expected, found " + packed);
    };
  }
}

package dev.lengthwise.cache;

import java.util.Locale;

/** Where the lanes look at the bytes of a line. */
public sealed interface PredecodePlace {

  /** On read, behind the way multiplexer: one row of lanes, on the longest path. */
  record Inline() implements PredecodePlace {}

  /** On read, before the way multiplexer: a row of lanes for each way, beside the tag compare. */
  record PerWay() implements PredecodePlace {}

  /**
   * On fill: what the lanes say of each byte is stored with the line.
   *
   * @param bitsPerByte bits stored for each byte of the line, in [1, {@value #MOST_BITS}]
   */
  record OnFill(int bitsPerByte) implements PredecodePlace {

    /** The most bits stored for a byte. */
    public static final int MOST_BITS = 32;

    /**
     * Checks the range.
     *
     * @param bitsPerByte see OnFill
     * @throws IllegalArgumentException if out of range
     */
    public OnFill {
      if (bitsPerByte < 1 || bitsPerByte > MOST_BITS) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "pre-decode on fill: the bits stored for a byte must be in [1, %d], found %d",
                MOST_BITS,
                bitsPerByte));
      }
    }
  }

  /**
   * Returns the place behind the way multiplexer.
   *
   * @return the place
   */
  static PredecodePlace inline() {
    return new Inline();
  }

  /**
   * Returns the place before the way multiplexer.
   *
   * @return the place
   */
  static PredecodePlace perWay() {
    return new PerWay();
  }

  /**
   * Returns the place before the data RAM.
   *
   * @param bitsPerByte bits stored for each byte of the line, in [1, {@value OnFill#MOST_BITS}]
   * @return the place
   * @throws IllegalArgumentException if out of range
   */
  static PredecodePlace onFill(int bitsPerByte) {
    return new OnFill(bitsPerByte);
  }

  /**
   * Returns the bits stored with each byte of a line.
   *
   * @return 0 unless on fill
   */
  default int storedBits() {
    return this instanceof OnFill fill ? fill.bitsPerByte() : 0;
  }

  /**
   * Returns the name in tables and emitted heads.
   *
   * @return lower snake case
   */
  default String label() {
    return this instanceof OnFill fill
        ? "on_fill_" + fill.bitsPerByte()
        : this instanceof PerWay ? "per_way" : "inline";
  }
}

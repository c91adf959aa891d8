package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.Locale;

/**
 * A set of codes given by fixed and free bits, such as {@code "01xx_x100"}.
 *
 * @param width the number of bits, 8 or 16
 * @param mask a one for each fixed bit
 * @param value the values of the fixed bits; zero where a bit is free
 */
public record BitPattern(int width, int mask, int value) {

  /**
   * Checks that the bits fit.
   *
   * @param width see BitPattern
   * @param mask see BitPattern
   * @param value see BitPattern
   * @throws IllegalArgumentException if the width is neither 8 nor 16, a bit lies outside the
   *     width, or the value has a one where a bit is free
   */
  public BitPattern {
    if (width != 8 && width != 16) {
      throw new IllegalArgumentException("bit pattern: the width must be 8 or 16, found " + width);
    }
    if (mask >>> width != 0 || (value & ~mask) != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "bit pattern: the value must lie inside the mask and the mask inside %d bits,"
                  + " found value 0x%x and mask 0x%x",
              width,
              value,
              mask));
    }
  }

  /**
   * Parses a pattern, the most significant bit first.
   *
   * @param text 8 or 16 characters {@code 0}, {@code 1} or {@code x}; underscores between them are
   *     for the eye only
   * @return the pattern
   * @throws IllegalArgumentException if the text is anything else
   */
  public static BitPattern parse(String text) {
    String bits = text.replace("_", "");
    if (!bits.matches("[01x]{8}|[01x]{16}")) {
      throw new IllegalArgumentException(
          "bit pattern: 8 or 16 characters 0, 1 or x are expected, found " + HdlName.quote(text));
    }
    return new BitPattern(
        bits.length(),
        Integer.parseInt(bits.replace('0', '1').replace('x', '0'), 2),
        Integer.parseInt(bits.replace('x', '0'), 2));
  }

  /**
   * Tells whether a code belongs to the set.
   *
   * @param code in [0, 2^width)
   * @return true if every fixed bit agrees
   */
  public boolean matches(int code) {
    return (code & mask) == value;
  }

  /** Returns the text that {@link #parse} reads, in groups of four. */
  @Override
  public String toString() {
    StringBuilder out = new StringBuilder();
    for (int bit = width - 1; bit >= 0; bit--) {
      out.append((mask >> bit & 1) == 0 ? 'x' : (value >> bit & 1) == 0 ? '0' : '1');
      if (bit % 4 == 0 && bit > 0) {
        out.append('_');
      }
    }
    return out.toString();
  }
}

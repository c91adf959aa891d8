package dev.lengthwise.cache;

import java.util.Locale;

/**
 * A run of bits of an address.
 *
 * @param low the lowest bit, in [0, 64]
 * @param width the bits, in [0, 64 - low]; 0 if the field is empty
 */
public record BitField(int low, int width) {

  /**
   * Checks the ranges.
   *
   * @param low see BitField
   * @param width see BitField
   * @throws IllegalArgumentException if the field is not inside 64 bits
   */
  public BitField {
    if (low < 0 || width < 0 || low > Long.SIZE - width) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "bit field: the bits must be in [0, 64), found %d from bit %d",
              width,
              low));
    }
  }

  /**
   * Returns the field's value in an address.
   *
   * @param address the address, unsigned
   * @return the value, unsigned; 0 if the field is empty
   */
  public long of(long address) {
    return width == 0 ? 0 : (address << (Long.SIZE - low - width)) >>> (Long.SIZE - width);
  }

  /** Returns the highest and the lowest bit as {@code "11..5"}, or {@code "none"}. */
  @Override
  public String toString() {
    return width == 0 ? "none" : (low + width - 1) + ".." + low;
  }
}

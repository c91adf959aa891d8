package dev.lengthwise.device;

import java.util.Locale;

/**
 * One configuration of a RAM block.
 *
 * @param depth the words, a power of two
 * @param width the data bits of a word, in [1, 1024]
 * @param spareBits further bits of a word, made for parity and free for any use, in [0, 128]
 */
public record RamShape(int depth, int width, int spareBits) {

  /**
   * Checks the ranges.
   *
   * @param depth see RamShape
   * @param width see RamShape
   * @param spareBits see RamShape
   */
  public RamShape {
    if (depth < 1 || Integer.bitCount(depth) != 1) {
      throw new IllegalArgumentException(
          "ram shape: the depth must be a power of two, found " + depth);
    }
    if (width < 1 || width > 1024) {
      throw new IllegalArgumentException(
          "ram shape: the width must be in [1, 1024], found " + width);
    }
    if (spareBits < 0 || spareBits > 128) {
      throw new IllegalArgumentException(
          "ram shape: the spare bits must be in [0, 128], found " + spareBits);
    }
  }

  /**
   * Returns all bits of the block.
   *
   * @return depth times (width + spare bits)
   */
  public long bits() {
    return (long) depth * (width + spareBits);
  }

  /** Returns the shape as {@code "512 x 32+4"}. */
  @Override
  public String toString() {
    return spareBits == 0
        ? String.format(Locale.ROOT, "%d x %d", depth, width)
        : String.format(Locale.ROOT, "%d x %d+%d", depth, width, spareBits);
  }
}

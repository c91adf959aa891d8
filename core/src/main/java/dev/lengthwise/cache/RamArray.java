package dev.lengthwise.cache;

import java.util.Locale;
import java.util.Objects;

/**
 * What a cache stores of one kind, before it is put into RAM.
 *
 * @param part what is stored
 * @param copies the equal arrays, at least 1
 * @param rows the words of each, at least 1
 * @param width the bits of a word, at least 1
 */
public record RamArray(Part part, int copies, int rows, int width) {

  /** The kinds of what a cache stores. */
  public enum Part {
    /** The tags. */
    TAGS("tags"),
    /** The bytes of the lines. */
    DATA("data"),
    /** Which lines are valid. */
    VALID("valid"),
    /** The replacement state of the sets. */
    REPLACEMENT("replacement"),
    /** What the lanes said of the bytes on fill. */
    MARKS("marks");

    private final String label;

    Part(String label) {
      this.label = label;
    }

    /**
     * Returns the name in tables.
     *
     * @return lower snake case
     */
    public String label() {
      return label;
    }
  }

  /**
   * Checks the ranges.
   *
   * @param part see RamArray
   * @param copies see RamArray
   * @param rows see RamArray
   * @param width see RamArray
   * @throws IllegalArgumentException if a number is below 1
   */
  public RamArray {
    Objects.requireNonNull(part, "part");
    if (copies < 1 || rows < 1 || width < 1) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "ram array of %s: copies, rows and width must be at least 1, found %d, %d, %d",
              part.label(),
              copies,
              rows,
              width));
    }
  }

  /**
   * Returns what is stored.
   *
   * @return bits of all copies
   */
  public long bits() {
    return (long) copies * rows * width;
  }

  /** Returns the shape as {@code "4 of 128 x 20"}. */
  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%d of %d x %d", copies, rows, width);
  }
}

package dev.lengthwise.table;

import java.util.Objects;

/**
 * Bytes that a row has more, or less, while a condition on modes holds.
 *
 * @param when the condition
 * @param bytes the bytes to add, in [-{@value Row#LONGEST}, {@value Row#LONGEST}], not 0
 */
public record Growth(ModeCondition when, int bytes) {

  /**
   * Checks the range.
   *
   * @param when see Growth
   * @param bytes see Growth
   * @throws IllegalArgumentException if {@code bytes} is 0 or out of range
   */
  public Growth {
    Objects.requireNonNull(when, "when");
    if (bytes == 0 || Math.abs(bytes) > Row.LONGEST) {
      throw new IllegalArgumentException(
          "growth: bytes must be in [-"
              + Row.LONGEST
              + ", "
              + Row.LONGEST
              + "] and not 0, found "
              + bytes);
    }
  }
}

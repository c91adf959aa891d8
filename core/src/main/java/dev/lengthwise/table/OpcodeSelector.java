package dev.lengthwise.table;

import java.util.Locale;
import java.util.Objects;

/** The codes of a map that share a row. */
public sealed interface OpcodeSelector {

  /**
   * Tells whether a code is selected; {@link Others} selects by exclusion, so it answers false.
   *
   * @param code in [0, 0xffff]
   * @return true if it is named
   */
  boolean names(int code);

  /**
   * Codes from one to another, both included.
   *
   * @param from the first code, in [0, 0xffff]
   * @param to the last code, in [from, 0xffff]
   */
  record Range(int from, int to) implements OpcodeSelector {

    /**
     * Checks the order and the range.
     *
     * @param from see Range
     * @param to see Range
     * @throws IllegalArgumentException if {@code to} is below {@code from} or a code out of range
     */
    public Range {
      if (to < from) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "rows: the last opcode must not be below the first, found 0x%02x-0x%02x",
                from,
                to));
      }
      if (from < 0 || to > 0xffff) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "rows: opcodes must be in [0x00, 0xffff], found 0x%02x-0x%02x",
                from,
                to));
      }
    }

    @Override
    public boolean names(int code) {
      return from <= code && code <= to;
    }

    @Override
    public String toString() {
      return from == to
          ? String.format(Locale.ROOT, "0x%02x", from)
          : String.format(Locale.ROOT, "0x%02x-0x%02x", from, to);
    }
  }

  /**
   * Codes that match a pattern.
   *
   * @param pattern as wide as the map's code unit
   */
  record Matching(BitPattern pattern) implements OpcodeSelector {

    /**
     * Checks for null.
     *
     * @param pattern see Matching
     */
    public Matching {
      Objects.requireNonNull(pattern, "pattern");
    }

    @Override
    public boolean names(int code) {
      return pattern.matches(code);
    }

    @Override
    public String toString() {
      return pattern.toString();
    }
  }

  /** All codes that no other selector of the map names. */
  record Others() implements OpcodeSelector {

    @Override
    public boolean names(int code) {
      return false;
    }

    @Override
    public String toString() {
      return "others";
    }
  }
}

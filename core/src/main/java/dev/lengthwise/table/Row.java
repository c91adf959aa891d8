package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

/** What one opcode says about the length of its instruction. */
public sealed interface Row {

  /** The longest instruction that can be described, in bytes. */
  int LONGEST = 63;

  /** An opcode that no instruction has; its length is not defined. */
  record Undefined() implements Row {}

  /**
   * An opcode that is continued by a code unit of another map.
   *
   * @param map the map's name
   * @param skip the bytes between this code unit and the next one, in [0, 3]
   */
  record Escape(String map, int skip) implements Row {

    /**
     * Checks the values.
     *
     * @param map see Escape
     * @param skip see Escape
     * @throws IllegalArgumentException if the name is not legal or {@code skip} is out of range
     */
    public Escape {
      HdlName.require("escape", map);
      if (skip < 0 || skip > 3) {
        throw new IllegalArgumentException(
            "escape to " + map + ": bytes to skip must be in [0, 3], found " + skip);
      }
    }
  }

  /**
   * An instruction.
   *
   * @param bytes the bytes from the first opcode byte on, a specifier byte counted, in [1, {@value
   *     #LONGEST}]
   * @param growths the bytes that modes add or take
   * @param specifier the operand specifier directly after the opcode, if there is one
   */
  record Instruction(int bytes, List<Growth> growths, Optional<OperandSpecifier> specifier)
      implements Row {

    /**
     * Checks the range and copies the list.
     *
     * @param bytes see Instruction
     * @param growths see Instruction
     * @param specifier see Instruction
     * @throws IllegalArgumentException if {@code bytes} is out of range
     */
    public Instruction {
      if (bytes < 1 || bytes > LONGEST) {
        throw new IllegalArgumentException(
            "row: bytes must be in [1, " + LONGEST + "], found " + bytes);
      }
      growths = List.copyOf(growths);
      Objects.requireNonNull(specifier, "specifier");
    }

    /**
     * Returns the bytes without what the specifier adds.
     *
     * @param modeNames the modes in the order of the bits
     * @param modes mode i is bit i
     * @return bytes from the first opcode byte on
     */
    public int bytesUnder(List<String> modeNames, int modes) {
      return bytes
          + growths.stream()
              .filter(growth -> growth.when().holds(modeNames, modes))
              .mapToInt(Growth::bytes)
              .sum();
    }
  }

  /**
   * An opcode whose row depends on the byte after it, for instance because a field of that byte
   * completes the opcode.
   *
   * @param cases the patterns of the byte and the row for each; together they cover every byte once
   */
  record ByNextByte(List<Case> cases) implements Row {

    /**
     * Copies the list; whether its patterns overlap or leave a byte out, the table checks.
     *
     * @param cases see ByNextByte
     * @throws IllegalStateException if a case for all other bytes is not the last
     */
    public ByNextByte {
      cases = List.copyOf(cases);
      for (int i = 0; i < cases.size() - 1; i++) {
        if (cases.get(i).pattern().isEmpty()) {
          throw new IllegalStateException(
              "rows by the next byte: others comes last, found a case after it");
        }
      }
    }

    /**
     * Returns the row for a byte.
     *
     * @param nextByte the byte after the opcode, in [0, 0xff]
     * @return the row; never itself a {@link ByNextByte}
     * @throws IllegalArgumentException if there is no case for the byte
     */
    public Row row(int nextByte) {
      return cases.stream()
          .filter(c -> c.pattern().map(p -> p.matches(nextByte)).orElse(true))
          .findFirst()
          .orElseThrow(
              () ->
                  new IllegalArgumentException(
                      String.format(
                          Locale.ROOT,
                          "rows by the next byte: every byte must have a case, found none for 0x%02x",
                          nextByte)))
          .row();
    }

    /**
     * One case.
     *
     * @param pattern an 8-bit pattern of the byte after the opcode; empty in the last case, for all
     *     bytes that no other case names
     * @param row the row; never itself a {@link ByNextByte}
     */
    public record Case(Optional<BitPattern> pattern, Row row) {

      /**
       * Checks the parts.
       *
       * @param pattern see Case
       * @param row see Case
       * @throws IllegalArgumentException if the pattern is not 8 bits wide or the row depends on
       *     the next byte itself
       */
      public Case {
        Objects.requireNonNull(pattern, "pattern");
        Objects.requireNonNull(row, "row");
        if (pattern.isPresent() && pattern.get().width() != 8) {
          throw new IllegalArgumentException(
              "rows by the next byte: a pattern must be 8 bits wide, found " + pattern.get());
        }
        if (row instanceof ByNextByte) {
          throw new IllegalArgumentException(
              "rows by the next byte: a case must not depend on it again, found byNextByte");
        }
      }
    }
  }

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
}

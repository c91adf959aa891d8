package dev.lengthwise.predecode.row;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

/** What a lane makes of one opcode, all restrictions applied. */
public sealed interface LaneRow {

  /** The lane says "not handled". */
  record NotHandled() implements LaneRow {}

  /** The lane may say anything. */
  record Anything() implements LaneRow {}

  /**
   * The lane says a length.
   *
   * @param bytes for each mode word, the bytes from the first opcode byte on without what the
   *     specifier adds
   * @param specifier what is read of the operand specifier, if the row has one
   */
  record Length(List<Integer> bytes, Optional<LaneSpecifier> specifier) implements LaneRow {

    /**
     * Copies the list.
     *
     * @param bytes see Length
     * @param specifier see Length
     */
    public Length {
      bytes = List.copyOf(bytes);
      Objects.requireNonNull(specifier, "specifier");
    }
  }

  /**
   * The lane looks up a later code unit in another map.
   *
   * @param map the map's place in the table
   */
  record Escape(int map) implements LaneRow {}

  /**
   * The lane reads the byte after the opcode to find the row.
   *
   * @param rows the row for each of 256 bytes; never itself of this kind
   */
  record ByNextByte(List<LaneRow> rows) implements LaneRow {

    /**
     * Copies the list.
     *
     * @param rows see ByNextByte
     */
    public ByNextByte {
      rows = List.copyOf(rows);
    }
  }
}

package dev.lengthwise.golden;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneSpecifier;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.util.Objects;
import java.util.Optional;

/**
 * The golden function of a lane: what the circuit must say.
 *
 * <p>Bytes past the end of the memory read as 0. Immutable and safe for use by several threads.
 */
public final class LaneModel {

  /** The lane says "not handled". */
  public static final int NOT_HANDLED = 0;

  /** The lane may say anything, because no opcode is defined; see {@link UndefinedRows}. */
  public static final int ANYTHING = -1;

  private final Predecoder lane;
  private final InstructionSet set;
  private final CodeUnit unit;
  private final LaneTable[] tables;

  private LaneModel(Predecoder lane) {
    this.lane = lane;
    this.set = lane.instructionSet();
    this.unit = set.table().unit();
    this.tables = new LaneTable[lane.mostFolded() + 1];
    for (int prefixes = 0; prefixes < tables.length; prefixes++) {
      tables[prefixes] = LaneTable.of(lane, prefixes);
    }
  }

  /**
   * Compiles a lane.
   *
   * @param lane the lane
   * @return its golden function
   */
  public static LaneModel of(Predecoder lane) {
    return new LaneModel(Objects.requireNonNull(lane, "lane"));
  }

  /**
   * Returns the lane.
   *
   * @return the lane
   */
  public Predecoder lane() {
    return lane;
  }

  /**
   * Returns what the lane says at an offset.
   *
   * @param modes the modes at the lane's input; mode i is bit i
   * @param memory the bytes
   * @param offset where the lane's own byte is, at least 0
   * @return a length in [1, longest], {@link #NOT_HANDLED} or {@link #ANYTHING}
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the offset is negative
   */
  public int lengthAt(int modes, byte[] memory, int offset) {
    set.table().requireModes(modes);
    if (offset < 0) {
      throw new IndexOutOfBoundsException(
          "lane " + lane.name() + ": an offset must be at least 0, found " + offset);
    }
    return said(modes, memory, offset);
  }

  /** Returns what the lane says; an offset that overflowed is past the end of every memory. */
  int said(int modes, byte[] memory, int offset) {
    int current = modes;
    int cursor = offset;
    for (int prefixes = 0; ; prefixes++) {
      if (cursor - offset + unit.bytes() > 1 + lane.lookahead()) {
        return NOT_HANDLED;
      }
      Optional<PrefixRules.Prefix> prefix = set.prefixes().prefix(unitAt(memory, cursor));
      if (prefix.isEmpty() || !isFolded(prefix.get().code(), prefixes)) {
        int length = rowLength(tables[prefixes], memory, cursor, current);
        return length > 0 ? length + cursor - offset : length;
      }
      current = prefix.get().apply(set.table().modes(), modes, current);
      cursor += unit.bytes();
    }
  }

  private boolean isFolded(int code, int prefixesBefore) {
    return prefixesBefore < Math.min(lane.prefixes().get(code).most(), lane.mostFolded());
  }

  private int rowLength(LaneTable table, byte[] memory, int cursor, int modes) {
    LaneTable.LaneMap map = table.maps().get(0);
    while (true) {
      int next = cursor + map.offset() + unit.bytes();
      LaneRow row = map.rows().get(unitAt(memory, cursor + map.offset()));
      if (row instanceof LaneRow.ByNextByte split) {
        row = split.rows().get(byteAt(memory, next));
      }
      if (row instanceof LaneRow.Escape escape) {
        map = table.maps().get(escape.map());
      } else if (row instanceof LaneRow.Length length) {
        return bytes(
            length, table.mostBytes(), byteAt(memory, next), byteAt(memory, next + 1), modes);
      } else {
        return row instanceof LaneRow.Anything ? ANYTHING : NOT_HANDLED;
      }
    }
  }

  private static int bytes(
      LaneRow.Length row, int most, int specifierByte, int nextByte, int modes) {
    int bytes = row.bytes().get(modes);
    if (row.specifier().isPresent()) {
      int added = row.specifier().get().added(specifierByte, nextByte, modes);
      if (added == LaneSpecifier.NOT_DECIDED) {
        return NOT_HANDLED;
      }
      bytes += added;
    }
    return bytes <= most ? bytes : NOT_HANDLED;
  }

  /** Returns a code unit; bytes past the end of the memory read as 0. */
  int unitAt(byte[] memory, int offset) {
    if (offset >= 0 && offset <= memory.length - unit.bytes()) {
      return unit.read(memory, offset);
    }
    byte[] padded = new byte[unit.bytes()];
    for (int i = 0; i < padded.length; i++) {
      padded[i] = (byte) byteAt(memory, offset + i);
    }
    return unit.read(padded, 0);
  }

  private static int byteAt(byte[] memory, int offset) {
    return Integer.compareUnsigned(offset, memory.length) < 0 ? memory[offset] & 0xff : 0;
  }
}

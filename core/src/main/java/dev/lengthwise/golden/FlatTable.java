package dev.lengthwise.golden;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A length table compiled to arrays of integers, for speed.
 *
 * <p>Each map is an array from code to an entry; each entry is an index into row descriptors of
 * {@code 1 << modes} shorts and a specifier, or leads to another map, or to 256 entries by the next
 * byte. Equal rows share a descriptor.
 */
final class FlatTable {

  static final int UNDEFINED = 0;
  static final int TOO_FEW = -1;

  private static final int KIND_SHIFT = 28;
  private static final int PAYLOAD = (1 << KIND_SHIFT) - 1;
  private static final int KIND_UNDEFINED = 0;
  private static final int KIND_INSTRUCTION = 1;
  private static final int KIND_ESCAPE = 2;
  private static final int KIND_BY_NEXT_BYTE = 3;

  private final CodeUnit unit;
  private final int modeBits;
  private final int[][] entryOfCode;
  private final int[][] entryOfNextByte;
  private final int[] escapeMap;
  private final int[] escapeSkip;
  private final byte[] rowBytes;
  private final short[] rowSpecifier;
  private final FlatSpecifier[] specifiers;

  FlatTable(LengthTable table) {
    Compiler compiler = new Compiler(table);
    this.unit = table.unit();
    this.modeBits = table.modes().size();
    this.entryOfCode = compiler.maps();
    this.entryOfNextByte = compiler.splits.toArray(int[][]::new);
    this.escapeMap = compiler.escapes.stream().mapToInt(e -> table.mapIndex(e.map())).toArray();
    this.escapeSkip = compiler.escapes.stream().mapToInt(Row.Escape::skip).toArray();
    List<OperandSpecifier> used = List.copyOf(table.specifiers());
    this.specifiers =
        used.stream().map(s -> new FlatSpecifier(s, table.modes())).toArray(FlatSpecifier[]::new);
    this.rowBytes = new byte[compiler.rows.size() << modeBits];
    this.rowSpecifier = new short[compiler.rows.size()];
    for (int row = 0; row < compiler.rows.size(); row++) {
      Row.Instruction instruction = compiler.rows.get(row);
      for (int modes = 0; modes < 1 << modeBits; modes++) {
        rowBytes[(row << modeBits) + modes] = (byte) instruction.bytesUnder(table.modes(), modes);
      }
      rowSpecifier[row] = (short) instruction.specifier().map(used::indexOf).orElse(-1).intValue();
    }
  }

  /** Returns the length of the instruction at a cursor behind prefixes, or a negative reason. */
  int lengthAt(byte[] memory, int start, int end, int modes) {
    int map = 0;
    int cursor = start;
    while (true) {
      if (end - cursor < unit.bytes()) {
        return TOO_FEW;
      }
      int next = cursor + unit.bytes();
      int entry = entryOfCode[map][unit.read(memory, cursor)];
      if (entry >>> KIND_SHIFT == KIND_BY_NEXT_BYTE) {
        if (next >= end) {
          return TOO_FEW;
        }
        entry = entryOfNextByte[entry & PAYLOAD][memory[next] & 0xff];
      }
      int payload = entry & PAYLOAD;
      switch (entry >>> KIND_SHIFT) {
        case KIND_UNDEFINED -> {
          return UNDEFINED;
        }
        case KIND_INSTRUCTION -> {
          return instructionLength(memory, next, end, payload, modes);
        }
        default -> {
          map = escapeMap[payload];
          cursor = next + escapeSkip[payload];
        }
      }
    }
  }

  private int instructionLength(byte[] memory, int next, int end, int row, int modes) {
    int bytes = rowBytes[(row << modeBits) + modes];
    int specifier = rowSpecifier[row];
    if (specifier < 0) {
      return bytes;
    }
    int added = specifiers[specifier].added(memory, next, end, modes);
    return added < 0 ? TOO_FEW : bytes + added;
  }

  /** Assigns entries to rows. */
  private static final class Compiler {

    private final LengthTable table;
    private final List<Row.Instruction> rows = new ArrayList<>();
    private final List<Row.Escape> escapes = new ArrayList<>();
    private final List<int[]> splits = new ArrayList<>();
    private final Map<Row, Integer> entries = new HashMap<>();

    Compiler(LengthTable table) {
      this.table = table;
    }

    int[][] maps() {
      int[][] result = new int[table.maps().size()][];
      for (int i = 0; i < result.length; i++) {
        OpcodeMap map = table.maps().get(i);
        int[] entryOfGroup = map.groups().stream().mapToInt(g -> entry(g.row())).toArray();
        result[i] = new int[map.unit().codes()];
        for (int code = 0; code < result[i].length; code++) {
          result[i][code] = entryOfGroup[map.groupOf(code)];
        }
      }
      return result;
    }

    private int entry(Row row) {
      Integer known = entries.get(row);
      if (known == null) {
        known = newEntry(row);
        entries.put(row, known);
      }
      return known;
    }

    private int newEntry(Row row) {
      if (row instanceof Row.Instruction instruction) {
        rows.add(instruction);
        return KIND_INSTRUCTION << KIND_SHIFT | (rows.size() - 1);
      }
      if (row instanceof Row.Escape escape) {
        escapes.add(escape);
        return KIND_ESCAPE << KIND_SHIFT | (escapes.size() - 1);
      }
      if (row instanceof Row.ByNextByte split) {
        int[] byNext = new int[256];
        for (int next = 0; next < 256; next++) {
          byNext[next] = entry(split.row(next));
        }
        splits.add(byNext);
        return KIND_BY_NEXT_BYTE << KIND_SHIFT | (splits.size() - 1);
      }
      return KIND_UNDEFINED << KIND_SHIFT;
    }
  }
}

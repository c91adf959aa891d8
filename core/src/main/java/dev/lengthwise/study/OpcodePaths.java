package dev.lengthwise.study;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;

/**
 * Finds the opcodes that the truth reads for an instruction, map after map, and numbers the
 * different ways.
 */
final class OpcodePaths {

  private final LengthTable table;
  private final CodeUnit unit;
  private final boolean[] isPrefix;
  private final int[] offsets;
  private final Row[][] rows;
  private final IdentityHashMap<Row, Row[]> splits = new IdentityHashMap<>();
  private final List<List<Opcode>> paths = new ArrayList<>();

  /** The numbers of paths by the opcodes read, each with its map. */
  private final Map<List<Integer>, Integer> numbers = new HashMap<>();

  /** For a first opcode that is no escape, the number of its path, or -1 if it was not met. */
  private final int[] single;

  /**
   * An opcode of a map.
   *
   * @param map the map's name
   * @param code the opcode
   */
  record Opcode(String map, int code) {}

  OpcodePaths(InstructionSet set) {
    this.table = set.table();
    this.unit = table.unit();
    this.isPrefix = new boolean[unit.codes()];
    set.prefixes().prefixes().keySet().forEach(code -> isPrefix[code] = true);
    this.single = new int[unit.codes()];
    Arrays.fill(single, -1);
    List<OpcodeMap> maps = table.maps();
    this.offsets = maps.stream().mapToInt(map -> table.offsetOf(map.name())).toArray();
    this.rows = new Row[maps.size()][unit.codes()];
    for (int m = 0; m < rows.length; m++) {
      Arrays.setAll(rows[m], maps.get(m)::row);
    }
  }

  /** Returns the number of an instruction's path; some bytes must stand behind the instruction. */
  int number(byte[] memory, int offset, int length) {
    int cursor = offset;
    while (isPrefix[unit.read(memory, cursor)] && cursor + 2 * unit.bytes() <= offset + length) {
      cursor += unit.bytes();
    }
    int first = unit.read(memory, cursor);
    Row row = row(0, first, memory[cursor + unit.bytes()]);
    if (!(row instanceof Row.Escape)) {
      if (single[first] < 0) {
        single[first] = add(List.of(0, first));
      }
      return single[first];
    }
    List<Integer> key = new ArrayList<>(List.of(0, first));
    while (row instanceof Row.Escape escape) {
      int map = table.mapIndex(escape.map());
      int at = cursor + offsets[map];
      int code = unit.read(memory, at);
      key.add(map);
      key.add(code);
      row = row(map, code, memory[at + unit.bytes()]);
    }
    Integer known = numbers.get(key);
    return known != null ? known : add(key);
  }

  private Row row(int map, int code, byte next) {
    Row row = rows[map][code];
    if (row instanceof Row.ByNextByte split) {
      return splits.computeIfAbsent(split, s -> split(split))[next & 0xff];
    }
    return row;
  }

  private static Row[] split(Row.ByNextByte split) {
    Row[] found = new Row[256];
    Arrays.setAll(found, split::row);
    return found;
  }

  private int add(List<Integer> key) {
    List<Opcode> path = new ArrayList<>();
    for (int i = 0; i < key.size(); i += 2) {
      path.add(new Opcode(table.maps().get(key.get(i)).name(), key.get(i + 1)));
    }
    paths.add(List.copyOf(path));
    numbers.put(List.copyOf(key), paths.size() - 1);
    return paths.size() - 1;
  }

  /** Returns the paths met, by number. */
  List<List<Opcode>> paths() {
    return List.copyOf(paths);
  }
}

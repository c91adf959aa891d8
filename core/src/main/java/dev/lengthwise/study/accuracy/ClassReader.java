package dev.lengthwise.study.accuracy;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Reads of an instruction all that can make a difference to any lane: its prefixes, the rows on the
 * way to it, and what its operand specifier says. Instructions with equal keys get equal answers
 * from each lane, because a row and a specifier are all that a lane is made from.
 */
final class ClassReader {

  private final InstructionSet set;
  private final LengthTable table;
  private final CodeUnit unit;
  private final PrefixRules prefixes;
  private final int initialModes;
  private final Map<List<Object>, SpecifierClasses> specifiers = new HashMap<>();

  /**
   * What was read.
   *
   * @param key equal for instructions that no lane can tell apart
   * @param rows the rows on the way, each its map's place times the number of codes, plus its code
   * @param prefixBytes the bytes before the opcode
   */
  record Reading(List<Integer> key, List<Integer> rows, int prefixBytes) {}

  ClassReader(InstructionSet set, int modes) {
    this.set = set;
    this.table = set.table();
    this.unit = table.unit();
    this.prefixes = set.prefixes();
    this.initialModes = modes;
  }

  InstructionSet set() {
    return set;
  }

  int modes() {
    return initialModes;
  }

  /** Reads an instruction at the start of bytes that hold it and zeros behind. */
  Reading read(byte[] memory) {
    List<Integer> key = new ArrayList<>();
    List<Integer> rows = new ArrayList<>();
    int modes = initialModes;
    int cursor = 0;
    while (cursor + unit.bytes() <= memory.length) {
      int code = unit.read(memory, cursor);
      Optional<PrefixRules.Prefix> prefix = prefixes.prefix(code);
      if (prefix.isEmpty()) {
        break;
      }
      key.add(code);
      modes = prefix.get().apply(table.modes(), initialModes, modes);
      cursor += unit.bytes();
    }
    key.add(-1); // ends the prefixes
    readRows(memory, cursor, modes, key, rows);
    return new Reading(List.copyOf(key), List.copyOf(rows), cursor);
  }

  private void readRows(
      byte[] memory, int start, int modes, List<Integer> key, List<Integer> rows) {
    int map = 0;
    int cursor = start;
    while (cursor + unit.bytes() + 2 <= memory.length) {
      OpcodeMap opcodes = table.maps().get(map);
      int code = unit.read(memory, cursor);
      int next = cursor + unit.bytes();
      rows.add(map * unit.codes() + code);
      key.add(code);
      Row row = opcodes.row(code);
      if (row instanceof Row.ByNextByte split) {
        row = split.row(memory[next] & 0xff);
        key.add(caseOf(split, memory[next] & 0xff));
      }
      if (row instanceof Row.Escape escape) {
        map = table.mapIndex(escape.map());
        cursor = next + escape.skip();
        continue;
      }
      if (row instanceof Row.Instruction instruction && instruction.specifier().isPresent()) {
        SpecifierClasses classes =
            specifiers.computeIfAbsent(
                List.of(instruction.specifier().get(), modes),
                k -> new SpecifierClasses(instruction.specifier().get(), table.modes(), modes));
        key.add(classes.classOf(memory[next] & 0xff));
        key.add(classes.added(memory[next] & 0xff, memory[next + 1] & 0xff));
      }
      return;
    }
  }

  private static int caseOf(Row.ByNextByte split, int value) {
    List<Row.ByNextByte.Case> cases = split.cases();
    for (int i = 0; i < cases.size(); i++) {
      if (cases.get(i).pattern().map(p -> p.matches(value)).orElse(true)) {
        return i;
      }
    }
    throw new AssertionError("a row by the next byte is not complete");
  }
}

package dev.lengthwise.study.advice;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import dev.lengthwise.work.Work;
import java.io.ByteArrayOutputStream;
import java.util.BitSet;
import java.util.List;

/**
 * Code with an instruction of each row of each map, without prefixes, for every value of the byte
 * after the opcode and one value of the byte after that: what unseen code may have, if nothing is
 * known of it.
 */
final class EveryRow {

  /** The bytes from one instruction to the next. */
  private static final int PITCH = 32;

  /** An odd number, so that each value of the first byte brings another second one. */
  private static final int SPREAD = 0x6d;

  private final LengthTable table;
  private final CodeUnit unit;
  private final GoldenModel truth;
  private final int modes;
  private final BitSet walked = new BitSet();
  private final TraceCounts.Counter counter = new TraceCounts.Counter();
  private final ByteArrayOutputStream code = new ByteArrayOutputStream();
  private final byte[] memory = new byte[PITCH];

  private EveryRow(InstructionSet set, int modes) {
    this.table = set.table();
    this.unit = table.unit();
    this.truth = GoldenModel.of(set);
    this.modes = modes;
  }

  /** Returns the code, each instruction once. */
  static CodeStream of(InstructionSet set, int modes) {
    EveryRow rows = new EveryRow(set, modes);
    rows.walk(0, 0);
    return new CodeStream(
        "every row",
        CodeImage.of(List.of(CodeImage.Section.of("rows", 0, rows.code.toByteArray()))),
        rows.counter.counts());
  }

  /** Walks a map once, however many rows lead to it. */
  private void walk(int map, int cursor) {
    if (walked.get(map)) {
      return;
    }
    walked.set(map);
    OpcodeMap opcodes = table.maps().get(map);
    for (int group = 0; group < opcodes.groups().size(); group++) {
      unit.write(opcodes.codes(group).findFirst().orElseThrow(), memory, cursor);
      Row row = opcodes.groups().get(group).row();
      int next = cursor + unit.bytes();
      for (int value = 0; value < 256; value++) {
        Work.check();
        memory[next] = (byte) value;
        memory[next + 1] = (byte) (value * SPREAD);
        Row leaf = row instanceof Row.ByNextByte split ? split.row(value) : row;
        if (leaf instanceof Row.Escape escape) {
          walk(table.mapIndex(escape.map()), next + escape.skip());
        } else {
          add();
        }
      }
    }
  }

  private void add() {
    int length = truth.lengthAt(modes, memory, 0);
    if (length > 0) {
      counter.instruction(code.size(), length);
      code.writeBytes(memory);
    }
  }
}

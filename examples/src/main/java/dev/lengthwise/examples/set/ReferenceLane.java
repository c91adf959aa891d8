package dev.lengthwise.examples.set;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/**
 * The lane by which mappers are compared, described like any instruction set.
 *
 * <p>Its two maps are the resource {@code reference-lane.csv}, with the lengths for both values of
 * its one mode; it counts no immediates that depend on the operand byte, and a prefix is one byte.
 */
public final class ReferenceLane {

  private static final String WIDE = "w";

  private static final OperandSpecifier OPERAND =
      narrow(OperandSpecifier.named("operand"), true).build();

  /** The operand of rows that have one only in the wide mode. */
  private static final OperandSpecifier WIDE_OPERAND =
      narrow(OperandSpecifier.named("wide_operand"), false).build();

  /**
   * One line of the resource.
   *
   * @param map 0 or 1
   * @param opcode in [0, 0xff]
   * @param kind {@code row}, {@code escape} or {@code undefined}
   * @param bytes the bytes for each value of the mode
   * @param operand whether an operand byte follows, for each value of the mode
   */
  private record Line(
      int map, int opcode, String kind, List<Integer> bytes, List<Boolean> operand) {

    static Line parse(String text) {
      String[] field = text.split(",", -1);
      boolean row = field[2].equals("row");
      return new Line(
          Integer.parseInt(field[0]),
          Integer.parseInt(field[1], 16),
          field[2],
          row ? List.of(Integer.parseInt(field[3]), Integer.parseInt(field[4])) : List.of(),
          row ? List.of(field[5].equals("1"), field[6].equals("1")) : List.of());
    }
  }

  private final List<Line> lines;

  private ReferenceLane(List<Line> lines) {
    this.lines = lines;
  }

  /**
   * Reads the rows of both maps.
   *
   * @return the lane
   */
  public static ReferenceLane read() {
    try (InputStream in = ReferenceLane.class.getResourceAsStream("reference-lane.csv")) {
      return new ReferenceLane(
          new BufferedReader(new InputStreamReader(in, StandardCharsets.US_ASCII))
              .lines()
              .skip(1)
              .map(Line::parse)
              .toList());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static OperandSpecifier.Builder narrow(OperandSpecifier.Builder builder, boolean counts) {
    ModeCondition off = ModeCondition.off(WIDE);
    ModeCondition on = ModeCondition.on(WIDE);
    if (counts) {
      builder
          .when(off, "00xx_x0xx", 0)
          .when(off, "00xx_x10x", 0)
          .when(off, "00xx_x110", 2)
          .when(off, "00xx_x111", 0)
          .when(off, "01xx_xxxx", 1)
          .when(off, "10xx_xxxx", 2)
          .when(off, "11xx_xxxx", 0);
    } else {
      builder.when(off, "xxxx_xxxx", 0);
    }
    builder.when(on, "00xx_x0xx", 0);
    for (String notFive : List.of("xxxx_x0xx", "xxxx_x11x", "xxxx_x100")) {
      builder.when(on, "00xx_x100", notFive, 1);
    }
    return builder
        .when(on, "00xx_x100", "xxxx_x101", 5)
        .when(on, "00xx_x101", 4)
        .when(on, "00xx_x11x", 0)
        .when(on, "01xx_x0xx", 1)
        .when(on, "01xx_x100", 2)
        .when(on, "01xx_x101", 1)
        .when(on, "01xx_x11x", 1)
        .when(on, "10xx_x0xx", 4)
        .when(on, "10xx_x100", 5)
        .when(on, "10xx_x101", 4)
        .when(on, "10xx_x11x", 4)
        .when(on, "11xx_xxxx", 0);
  }

  /**
   * Returns the whole lane, or the lane that counts no displacement and no index byte.
   *
   * @param withDisplacement true for the whole lane
   * @return a lane that reads four bytes, or two
   */
  public Predecoder lane(boolean withDisplacement) {
    LengthTable table =
        LengthTable.named("reference")
            .mode(WIDE)
            .map("map0", map -> describe(map, 0, withDisplacement))
            .map("map1", map -> describe(map, 1, withDisplacement))
            .build();
    return Predecoder.builder(InstructionSet.of(table, PrefixRules.builder().build(), 15))
        .undefinedRows(UndefinedRows.ANYTHING)
        .build();
  }

  private void describe(OpcodeMap.Builder map, int index, boolean withDisplacement) {
    for (Line line : lines) {
      if (line.map() == index) {
        switch (line.kind()) {
          case "escape" -> map.row(line.opcode()).escape("map1");
          case "undefined" -> map.row(line.opcode()).undefined();
          default -> row(map, line, withDisplacement);
        }
      }
    }
  }

  private static void row(OpcodeMap.Builder map, Line line, boolean withDisplacement) {
    int narrow = line.bytes().get(0);
    int growth = line.bytes().get(1) - narrow;
    var row = map.row(line.opcode()).bytes(narrow);
    if (growth != 0) {
      row.grows(WIDE, growth);
    }
    if (withDisplacement && line.operand().get(1)) {
      row.specifier(line.operand().get(0) ? OPERAND : WIDE_OPERAND);
    }
  }

  /**
   * Returns one map: inputs the opcode (bits 0 to 7) and the mode, outputs the bytes (3 bits) and
   * whether an operand byte follows; rows that are undefined or an escape matter nowhere.
   *
   * @param index 0 or 1
   * @return nine inputs and four outputs
   */
  public TruthTables map(int index) {
    Line[] rows = new Line[256];
    lines.stream()
        .filter(line -> line.map() == index && line.kind().equals("row"))
        .forEach(line -> rows[line.opcode()] = line);
    List<TruthTable> outputs = new ArrayList<>();
    for (int bit = 0; bit < 3; bit++) {
      int shift = bit;
      outputs.add(
          TruthTable.of(
              9,
              p -> (rows[p & 0xff].bytes().get(p >> 8) >> shift & 1) != 0,
              p -> rows[p & 0xff] != null));
    }
    outputs.add(
        TruthTable.of(9, p -> rows[p & 0xff].operand().get(p >> 8), p -> rows[p & 0xff] != null));
    return TruthTables.of(outputs);
  }
}

package dev.lengthwise.logic;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The lane that mappers are compared by: two opcode maps, an operand specifier and one mode, as the
 * resource {@code reference-lane.csv} of the examples lists them.
 */
public final class ReferenceLane {

  private static final Path LINES =
      Path.of("../examples/src/main/resources/dev/lengthwise/examples/set/reference-lane.csv");

  private ReferenceLane() {}

  /** Returns the whole lane, or the lane that counts no displacement and no index byte. */
  public static LaneFunction shape(boolean withDisplacement) {
    LaneFunction.Builder builder = LaneFunction.builder(List.of("w"), 11);
    int both = withDisplacement ? builder.specifier(ReferenceLane::added) : -1;
    int wide =
        withDisplacement ? builder.specifier((m, next, w) -> w == 1 ? added(m, next, w) : 0) : -1;
    LaneFunction.Outcome[][] outcomes = new LaneFunction.Outcome[2][256];
    for (String line : lines()) {
      String[] field = line.split(",", -1);
      int code = Integer.parseInt(field[1], 16);
      LaneFunction.Outcome outcome =
          switch (field[2]) {
            case "escape" -> new LaneFunction.Escape(1);
            case "undefined" -> new LaneFunction.Anything();
            default ->
                new LaneFunction.Bytes(
                    List.of(Integer.parseInt(field[3]), Integer.parseInt(field[4])),
                    field[5].equals("1") ? both : field[6].equals("1") ? wide : -1);
          };
      outcomes[Integer.parseInt(field[0])][code] = outcome;
    }
    return builder
        .map(new LaneFunction.CodeMap("map0", 0, 1, Arrays.asList(outcomes[0])))
        .map(new LaneFunction.CodeMap("map1", 1, 2, Arrays.asList(outcomes[1])))
        .build();
  }

  /**
   * Returns one map: inputs the opcode (bits 0 to 7) and the mode bit, outputs the length (3 bits)
   * and the specifier flag; rows that are undefined or an escape matter nowhere.
   */
  public static TruthTables map(int map) {
    int[][] rows = new int[512][];
    for (String line : lines()) {
      String[] field = line.split(",", -1);
      if (field[0].equals(Integer.toString(map)) && field[2].equals("row")) {
        int opcode = Integer.parseInt(field[1], 16);
        rows[opcode] = new int[] {Integer.parseInt(field[3]), Integer.parseInt(field[5])};
        rows[opcode | 256] = new int[] {Integer.parseInt(field[4]), Integer.parseInt(field[6])};
      }
    }
    List<TruthTable> outputs = new ArrayList<>();
    for (int bit = 0; bit < 3; bit++) {
      int shift = bit;
      outputs.add(TruthTable.of(9, p -> (rows[p][0] >> shift & 1) != 0, p -> rows[p] != null));
    }
    outputs.add(TruthTable.of(9, p -> rows[p][1] != 0, p -> rows[p] != null));
    return TruthTables.of(
        List.of(
            "code_0", "code_1", "code_2", "code_3", "code_4", "code_5", "code_6", "code_7", "wide"),
        List.of("length_0", "length_1", "length_2", "specifier"),
        outputs);
  }

  static List<String> lines() {
    try {
      return Files.readAllLines(LINES).stream().skip(1).toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** What the operand byte m adds; {@code next} is the byte after it. */
  static int added(int m, int next, int w) {
    int mod = m >> 6;
    int rm = m & 7;
    if (w == 0) {
      return mod == 1 ? 1 : mod == 2 || mod == 0 && rm == 6 ? 2 : 0;
    }
    boolean index = rm == 4 && mod != 3;
    boolean four = mod == 2 || mod == 0 && (rm == 5 || rm == 4 && (next & 7) == 5);
    return (index ? 1 : 0) + (mod == 1 ? 1 : 0) + (four ? 4 : 0);
  }
}

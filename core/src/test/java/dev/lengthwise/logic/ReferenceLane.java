package dev.lengthwise.logic;

import static java.nio.charset.StandardCharsets.US_ASCII;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/**
 * The opcode maps of {@code reference-lane.csv}: the length without displacement and index byte
 * under both values of a mode bit, and whether an operand specifier follows.
 */
final class ReferenceLane {

  private ReferenceLane() {}

  /**
   * Returns one map: inputs the opcode (bits 0 to 7) and the mode bit, outputs the length (3 bits)
   * and the specifier flag; rows that are undefined or an escape matter nowhere.
   */
  static TruthTables map(int map) {
    int[][] rows = new int[512][];
    for (String line : read().lines().toList()) {
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

  private static String read() {
    try (InputStream in = ReferenceLane.class.getResourceAsStream("reference-lane.csv")) {
      return new String(Objects.requireNonNull(in, "reference-lane.csv").readAllBytes(), US_ASCII);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

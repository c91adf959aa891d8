package dev.lengthwise.lane.support;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.support.SupportReducer;
import dev.lengthwise.logic.support.SymmetryReport;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What a designer asks of the bits that decide a length: which could go, which rows stand in the
 * way of the others, and which are alike. A point or opcode is in hex, bit 0 the lowest.
 */
public final class BitAccount {

  private static final int BYTE_CODES = 256;
  private static final int MOST_KINDS = 64;

  private BitAccount() {}

  /**
   * Accounts for the opcode bits of a lane without prefixes before the opcode, map by map; maps of
   * words are left out, as pairs of their opcodes would be too many to read.
   *
   * @param lane the lane
   * @return lines
   */
  public static List<String> of(Predecoder lane) {
    return of(LaneTable.of(lane, 0), true);
  }

  /**
   * Accounts for the inputs of a function.
   *
   * @param tables the function
   * @return lines
   */
  public static List<String> of(TruthTables tables) {
    List<String> lines = new ArrayList<>();
    add(tables.outputs(), true, lines);
    return List.copyOf(lines);
  }

  /**
   * Accounts for the opcode bits of what is left of each row.
   *
   * @param table the rows
   * @param alike whether bits that may be exchanged are told too
   * @return lines
   */
  public static List<String> of(LaneTable table, boolean alike) {
    List<String> lines = new ArrayList<>();
    for (LaneTable.LaneMap map : table.maps()) {
      if (map.rows().size() > BYTE_CODES) {
        continue;
      }
      List<LaneRow> distinct =
          map.rows().stream().filter(row -> !(row instanceof LaneRow.Anything)).distinct().toList();
      List<TruthTable> oneHot = new ArrayList<>();
      for (LaneRow row : distinct.subList(0, Math.min(MOST_KINDS, distinct.size()))) {
        oneHot.add(
            TruthTable.of(
                8,
                code -> map.rows().get(code).equals(row),
                code -> !(map.rows().get(code) instanceof LaneRow.Anything)));
      }
      lines.add("");
      lines.add(String.format(Locale.ROOT, "map %s: %s kinds of row", map.name(), distinct.size()));
      if (!oneHot.isEmpty()) {
        add(oneHot, alike, lines);
      }
    }
    return List.copyOf(lines);
  }

  private static void add(List<TruthTable> tables, boolean alike, List<String> lines) {
    SupportReducer.analyze(tables).toString().lines().forEach(line -> lines.add("  " + line));
    if (alike) {
      SymmetryReport.of(tables).toString().lines().forEach(line -> lines.add("  " + line));
    }
  }
}

package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;

/**
 * Opcodes that a search leaves out together: those that a map gives one row.
 *
 * @param leftOut the opcodes, as ranges of one map
 * @param isSplit true if the row depends on the next byte
 * @param targets the maps that it can lead to
 */
record RowUnit(List<Predecoder.LeftOut> leftOut, boolean isSplit, List<String> targets) {

  RowUnit {
    leftOut = List.copyOf(leftOut);
    targets = List.copyOf(targets);
  }

  String map() {
    return leftOut.get(0).map();
  }

  boolean isEscape() {
    return !targets.isEmpty();
  }

  boolean isFork() {
    return isSplit || isEscape();
  }

  /** Returns what kin have in common: the map, and what the row says. */
  List<Object> kind(LengthTable table) {
    return List.of(map(), table.map(map()).row(leftOut.get(0).from()));
  }

  /** Returns the opcodes as bits of all maps' rows, map after map. */
  BitSet rows(LengthTable table) {
    BitSet rows = new BitSet();
    for (Predecoder.LeftOut range : leftOut) {
      int first = table.mapIndex(range.map()) * table.unit().codes();
      rows.set(first + range.from(), first + range.to() + 1);
    }
    return rows;
  }

  /** Returns the units of all maps, without opcodes that are undefined. */
  static List<RowUnit> of(LengthTable table) {
    List<RowUnit> units = new ArrayList<>();
    for (OpcodeMap map : table.maps()) {
      for (int group = 0; group < map.groups().size(); group++) {
        Row row = map.groups().get(group).row();
        if (!(row instanceof Row.Undefined)) {
          List<Predecoder.LeftOut> ranges = ranges(map.name(), map.codes(group).toArray());
          if (!ranges.isEmpty()) {
            units.add(new RowUnit(ranges, row instanceof Row.ByNextByte, targets(row)));
          }
        }
      }
    }
    return units;
  }

  private static List<String> targets(Row row) {
    List<Row> leaves =
        row instanceof Row.ByNextByte split
            ? split.cases().stream().map(Row.ByNextByte.Case::row).toList()
            : List.of(row);
    return leaves.stream()
        .filter(Row.Escape.class::isInstance)
        .map(leaf -> ((Row.Escape) leaf).map())
        .distinct()
        .toList();
  }

  private static List<Predecoder.LeftOut> ranges(String map, int[] codes) {
    List<Predecoder.LeftOut> ranges = new ArrayList<>();
    int from = 0;
    for (int i = 1; i <= codes.length; i++) {
      if (i == codes.length || codes[i] != codes[i - 1] + 1) {
        ranges.add(new Predecoder.LeftOut(map, codes[from], codes[i - 1]));
        from = i;
      }
    }
    return ranges;
  }
}

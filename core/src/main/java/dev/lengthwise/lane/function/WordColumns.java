package dev.lengthwise.lane.function;

import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.table.CodeUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToIntFunction;

/**
 * A map of words as maps of bytes: what the first byte in memory leaves open is a column, the rows
 * by the second byte. Words whose rows follow a pattern leave few columns.
 */
final class WordColumns {

  private static final int VALUES = 256;

  private WordColumns() {}

  /**
   * Returns the rows by the first byte: the row itself where the second byte changes nothing, else
   * an escape to the column. A row with a specifier stays in its column, which says where that is.
   *
   * @param rows the rows by word
   * @param unit the order of the bytes
   * @param place adds a column and returns its place among the maps
   */
  static List<LaneRow> byFirstByte(
      List<LaneRow> rows, CodeUnit unit, ToIntFunction<List<LaneRow>> place) {
    int[] kinds = kinds(rows);
    Map<List<Integer>, Integer> places = new HashMap<>();
    List<LaneRow> first = new ArrayList<>();
    byte[] memory = new byte[2];
    for (int value = 0; value < VALUES; value++) {
      List<Integer> column = new ArrayList<>();
      List<LaneRow> columnRows = new ArrayList<>();
      for (int second = 0; second < VALUES; second++) {
        memory[0] = (byte) value;
        memory[1] = (byte) second;
        int word = unit.read(memory, 0);
        column.add(kinds[word]);
        columnRows.add(rows.get(word));
      }
      boolean alike = column.stream().distinct().count() == 1 && !isSpecified(columnRows.get(0));
      first.add(
          alike
              ? columnRows.get(0)
              : new LaneRow.Escape(
                  places.computeIfAbsent(column, key -> place.applyAsInt(columnRows))));
    }
    return first;
  }

  private static boolean isSpecified(LaneRow row) {
    return row instanceof LaneRow.Length length && length.specifier().isPresent();
  }

  /** Numbers equal rows alike, so that columns are compared by numbers. */
  private static int[] kinds(List<LaneRow> rows) {
    Map<LaneRow, Integer> numbers = new HashMap<>();
    return rows.stream()
        .mapToInt(row -> numbers.computeIfAbsent(row, key -> numbers.size()))
        .toArray();
  }
}

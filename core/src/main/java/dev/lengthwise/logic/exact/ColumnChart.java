package dev.lengthwise.logic.exact;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;

/**
 * The columns of a decomposition chart: which values of a bound set a problem does not tell apart.
 *
 * <p>Values that differ nowhere where both matter may share a column, so that don't-cares make for
 * fewer columns; values are put together one by one, those that matter at most points first. A
 * block whose wiring reads the bound set only through LUTs that read nothing else needs one value
 * of each column; the others copy it. The number of columns is the column multiplicity.
 */
public final class ColumnChart {

  private final int[] boundSet;
  private final int[] representative;
  private final EncodingProblem reduced;
  private final SourceWords words;
  private final int count;

  /** Values that share a column: the first of them, and the class at each point outside. */
  private record Column(int first, Map<Integer, Integer> classes) {

    boolean takes(Map<Integer, Integer> other) {
      return other.entrySet().stream()
          .allMatch(e -> classes.getOrDefault(e.getKey(), e.getValue()).equals(e.getValue()));
    }
  }

  public ColumnChart(EncodingProblem problem, int[] boundSet) {
    this.boundSet = boundSet.clone();
    int mask = Arrays.stream(boundSet).reduce(0, (m, b) -> m | 1 << b);
    List<Map<Integer, Integer>> charts = new ArrayList<>();
    for (int v = 0; v < 1 << boundSet.length; v++) {
      charts.add(new TreeMap<>());
    }
    for (int row = 0; row < problem.rows(); row++) {
      int point = problem.points()[row];
      charts.get(value(point)).put(point & ~mask, problem.classes()[row]);
    }
    representative = new int[charts.size()];
    List<Column> columns = new ArrayList<>();
    IntStream.range(0, charts.size())
        .boxed()
        .sorted(Comparator.comparingInt(v -> -charts.get(v).size()))
        .forEach(v -> representative[v] = put(v, charts.get(v), columns).first());
    count = columns.size();
    EncodingProblem.Rows rows = new EncodingProblem.Rows(problem.sources(), problem.outputs());
    for (Column column : columns) {
      column.classes().forEach((rest, c) -> rows.add(rest | spreadValue(column.first()), c));
    }
    reduced = rows.problem(problem.groups(), problem.permitted());
    words = new SourceWords(reduced);
  }

  /** Puts a value in the first column that takes it, or a new one. */
  private static Column put(int value, Map<Integer, Integer> chart, List<Column> columns) {
    for (Column column : columns) {
      if (column.takes(chart)) {
        column.classes().putAll(chart);
        return column;
      }
    }
    columns.add(new Column(value, new TreeMap<>(chart)));
    return columns.get(columns.size() - 1);
  }

  private int spreadValue(int value) {
    int point = 0;
    for (int i = 0; i < boundSet.length; i++) {
      point |= (value >> i & 1) << boundSet[i];
    }
    return point;
  }

  private int value(int point) {
    int value = 0;
    for (int i = 0; i < boundSet.length; i++) {
      value |= (point >> boundSet[i] & 1) << i;
    }
    return value;
  }

  /** Returns the column multiplicity. */
  public int count() {
    return count;
  }

  public EncodingProblem reduced() {
    return reduced;
  }

  public SourceWords words() {
    return words;
  }

  public int[] boundSet() {
    return boundSet;
  }

  /** Returns for each value of the bound set the one that stands for its column. */
  public int[] representatives() {
    return representative.clone();
  }

  /** Returns a LUT's table over the bound set, each value copied from its column's first. */
  public long[] spread(long[] table) {
    long[] result = new long[table.length];
    for (int v = 0; v < representative.length; v++) {
      int from = representative[v];
      result[v >> 6] |= (table[from >> 6] >>> from & 1) << v;
    }
    return result;
  }
}

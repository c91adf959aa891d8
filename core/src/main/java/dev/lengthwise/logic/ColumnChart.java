package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The columns of a decomposition chart: which values of a bound set a problem does not tell apart.
 *
 * <p>A block whose wiring reads the bound set only through LUTs that read nothing else needs one
 * value of each column; the others copy it. The number of columns is the column multiplicity.
 */
final class ColumnChart {

  private final int[] boundSet;
  private final int[] representative;
  private final CodeProblem reduced;
  private final RowWords words;
  private final int count;

  ColumnChart(CodeProblem problem, int[] boundSet) {
    this.boundSet = boundSet.clone();
    int mask = Arrays.stream(boundSet).reduce(0, (m, b) -> m | 1 << b);
    List<Map<Long, Integer>> charts = new ArrayList<>();
    for (int v = 0; v < 1 << boundSet.length; v++) {
      charts.add(new HashMap<>());
    }
    for (int row = 0; row < problem.rows(); row++) {
      int point = problem.points()[row];
      charts.get(value(point)).put((long) (point & ~mask), problem.classes()[row]);
    }
    representative = new int[charts.size()];
    Map<Map<Long, Integer>, Integer> known = new HashMap<>();
    for (int v = 0; v < representative.length; v++) {
      representative[v] = known.merge(charts.get(v), v, Math::min);
    }
    count = known.size();
    CodeProblem.Rows rows = new CodeProblem.Rows(problem.sources(), problem.outputs());
    for (int row = 0; row < problem.rows(); row++) {
      int v = value(problem.points()[row]);
      if (representative[v] == v) {
        rows.add(problem.points()[row], problem.classes()[row], problem.choices()[row]);
      }
    }
    reduced = rows.problem(problem.groups(), problem.permitted(), problem.choiceSets());
    words = new RowWords(reduced);
  }

  private int value(int point) {
    int value = 0;
    for (int i = 0; i < boundSet.length; i++) {
      value |= (point >> boundSet[i] & 1) << i;
    }
    return value;
  }

  /** Returns the column multiplicity. */
  int count() {
    return count;
  }

  CodeProblem reduced() {
    return reduced;
  }

  RowWords words() {
    return words;
  }

  int[] boundSet() {
    return boundSet;
  }

  /** Returns a LUT's table over the bound set, each value copied from its column's first. */
  long[] spread(long[] table) {
    long[] result = new long[table.length];
    for (int v = 0; v < representative.length; v++) {
      int from = representative[v];
      result[v >> 6] |= (table[from >> 6] >>> from & 1) << v;
    }
    return result;
  }
}

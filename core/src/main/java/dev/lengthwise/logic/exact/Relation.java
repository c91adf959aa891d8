package dev.lengthwise.logic.exact;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.PointWords;
import java.util.Arrays;
import java.util.List;

/**
 * What outputs may be at each point of some sources, as a Boolean relation.
 *
 * <p>Row r asks, at the source values {@code points[r]}, for one of the output combinations whose
 * bits are set in {@code allowed[r]}. With independent outputs the set is a cube; the outputs of a
 * window inside a network can trade with each other, then it need not be. There are 1 to 6 outputs,
 * the points are distinct, and no row allows nothing. The arrays are shared inside this package and
 * never written to.
 */
public final class Relation {

  private final int sources;
  private final int outputs;
  private final int[] points;
  private final long[] allowed;

  Relation(int sources, int outputs, int[] points, long[] allowed) {
    this.sources = sources;
    this.outputs = outputs;
    this.points = points;
    this.allowed = allowed;
  }

  int sources() {
    return sources;
  }

  int outputs() {
    return outputs;
  }

  int[] points() {
    return points;
  }

  long[] allowed() {
    return allowed;
  }

  /** Returns the set of all combinations of some outputs. */
  static long all(int outputs) {
    return outputs == 6 ? -1L : (1L << (1 << outputs)) - 1;
  }

  /** Returns the combinations in which an output has a value. */
  static long with(int output, boolean value, int outputs) {
    long ones = PointWords.variable(output, 0);
    return (value ? ones : ~ones) & all(outputs);
  }

  /**
   * Returns the relation of a table with at most 6 outputs; points that matter nowhere are left
   * out.
   */
  static Relation of(List<TruthTable> tables) {
    int inputs = tables.get(0).inputs();
    int outputs = tables.size();
    int[] points = new int[1 << inputs];
    long[] allowed = new long[1 << inputs];
    int rows = 0;
    for (int p = 0; p < 1 << inputs; p++) {
      long set = all(outputs);
      for (int o = 0; o < outputs; o++) {
        if (tables.get(o).isCare(p)) {
          set &= with(o, tables.get(o).isOn(p), outputs);
        }
      }
      if (set != all(outputs)) {
        points[rows] = p;
        allowed[rows++] = set;
      }
    }
    return new Relation(inputs, outputs, Arrays.copyOf(points, rows), Arrays.copyOf(allowed, rows));
  }
}

package dev.lengthwise.logic.map;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Builds functions of any number of signals: one that fits is a LUT, others are mapped together or,
 * if there are too many signals for that, become trees that split on the last signals.
 */
public final class LutTree {

  private final LutNetworkBuilder builder;
  private final int lutInputs;
  private final Objective objective;
  private final Effort effort;

  /**
   * Builds into a network.
   *
   * @param builder gets the LUTs
   * @param lutInputs the inputs of a LUT
   * @param objective what counts first
   * @param effort how much work a mapping may take
   */
  public LutTree(LutNetworkBuilder builder, int lutInputs, Objective objective, Effort effort) {
    this.objective = objective;
    this.builder = builder;
    this.lutInputs = lutInputs;
    this.effort = effort;
  }

  /**
   * Returns signals that are {@code tables} of the same {@code signals}.
   *
   * @param tables the functions
   * @param signals the signal of each input
   * @return a signal for each
   */
  public int[] buildAll(List<TruthTable> tables, int[] signals) {
    if (tables.isEmpty()) {
      return new int[0]; // of a lane whose length is constant nothing is wanted early
    }
    int[] distinct = Arrays.stream(signals).filter(s -> s >= 0).distinct().toArray();
    if (distinct.length < signals.length) {
      return buildAll(
          tables.stream().map(table -> tied(table, signals, distinct)).toList(), distinct);
    }
    if (signals.length <= lutInputs || signals.length > TruthTables.MOST_INPUTS) {
      return tables.stream().mapToInt(table -> build(table, signals)).toArray();
    }
    List<String> inputs = new ArrayList<>();
    for (int i = 0; i < signals.length; i++) {
      inputs.add("i" + i);
    }
    List<String> outputs = new ArrayList<>();
    for (int o = 0; o < tables.size(); o++) {
      outputs.add("o" + o);
    }
    LutNetwork mapped =
        LutMapper.forInputs(lutInputs)
            .withEffort(effort)
            .withObjective(objective)
            .withoutWalk()
            .map(TruthTables.of(inputs, outputs, tables));
    return builder.append(mapped, signals);
  }

  /** Returns a table as it is read when constant and repeated signals are. */
  private static TruthTable tied(TruthTable table, int[] signals, int[] distinct) {
    int[] points = new int[1 << distinct.length];
    for (int point = 0; point < points.length; point++) {
      for (int i = 0; i < signals.length; i++) {
        boolean one = signals[i] == LutNetwork.ONE;
        for (int d = 0; d < distinct.length; d++) {
          one |= distinct[d] == signals[i] && (point >> d & 1) != 0;
        }
        points[point] |= one ? 1 << i : 0;
      }
    }
    return TruthTable.of(distinct.length, p -> table.isOn(points[p]), p -> table.isCare(points[p]));
  }

  /**
   * Returns a signal that is {@code table} of {@code signals}; don't-cares become 0.
   *
   * @param table the function
   * @param signals the signal of each input
   * @return the signal
   */
  public int build(TruthTable table, int... signals) {
    int n = signals.length;
    for (int i = n - 1; i >= 0; i--) {
      if (!matters(table, i)) {
        int[] rest = new int[n - 1];
        System.arraycopy(signals, 0, rest, 0, i);
        System.arraycopy(signals, i + 1, rest, i, n - 1 - i);
        return build(cofactor(table, i), rest);
      }
    }
    if (n <= lutInputs) {
      return builder.lut(TruthTable.of(n, table::isOn), signals);
    }
    // A LUT of k inputs selects by s of them among 2^s subtrees.
    int selects = lutInputs >= 6 ? 2 : 1;
    selects = Math.min(selects, n - lutInputs);
    int low = n - selects;
    int[] lower = Arrays.copyOf(signals, low);
    int[] leaves = new int[(1 << selects) + selects];
    for (int v = 0; v < 1 << selects; v++) {
      int high = v << low;
      leaves[v] =
          build(TruthTable.of(low, p -> table.isOn(p | high), p -> table.isCare(p | high)), lower);
    }
    System.arraycopy(signals, low, leaves, 1 << selects, selects);
    int data = 1 << selects;
    TruthTable mux = TruthTable.of(leaves.length, p -> (p >> (p >> data) & 1) != 0);
    return builder.lut(mux, leaves);
  }

  /** Tells whether two care points show that an input matters. */
  static boolean matters(TruthTable table, int input) {
    for (int p = 0; p < 1 << table.inputs(); p++) {
      int other = p ^ 1 << input;
      if (table.isCare(p) && table.isCare(other) && table.isOn(p) != table.isOn(other)) {
        return true;
      }
    }
    return false;
  }

  private static TruthTable cofactor(TruthTable table, int input) {
    int low = (1 << input) - 1;
    return TruthTable.of(
        table.inputs() - 1,
        p -> {
          int zero = (p & low) | (p & ~low) << 1;
          return table.isOn(zero) || table.isOn(zero | 1 << input);
        },
        p -> {
          int zero = (p & low) | (p & ~low) << 1;
          return table.isCare(zero) || table.isCare(zero | 1 << input);
        });
  }
}

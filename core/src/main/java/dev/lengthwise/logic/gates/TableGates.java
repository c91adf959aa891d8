package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;

/** Gates of two inputs for tables. */
public final class TableGates {

  private static final TruthTable NOT = TruthTable.parse("10");

  private TableGates() {}

  /**
   * Returns gates that share what outputs have in common.
   *
   * @param function what the gates compute
   * @return a network that agrees with the function at every point that matters
   */
  public static LutNetwork of(TruthTables function) {
    int[] arrivals = new int[function.inputs()];
    AndGraph some = SharedChoices.of(function, arrivals, true);
    AndGraph other = SharedChoices.of(function, arrivals, false);
    return network(some.gates() <= other.gates() ? some : other, function);
  }

  private static LutNetwork network(AndGraph graph, TruthTables function) {
    LutNetworkBuilder builder = LutNetwork.builder(function.inputNames());
    int[] signals = new int[graph.nodes()];
    for (int i = 1; i <= graph.inputs(); i++) {
      signals[i] = i - 1;
    }
    for (int gate = graph.inputs() + 1; gate < graph.nodes(); gate++) {
      int left = graph.left(gate);
      int right = graph.right(gate);
      int one = 3 ^ (left & 1 | (right & 1) << 1);
      signals[gate] =
          builder.lut(
              TruthTable.of(2, point -> point == one), signals[left >> 1], signals[right >> 1]);
    }
    for (int i = 0; i < graph.outputs(); i++) {
      int literal = graph.output(i);
      int signal = literal < 2 ? LutNetwork.ZERO : signals[literal >> 1];
      builder.output(
          function.outputNames().get(i), (literal & 1) == 0 ? signal : builder.lut(NOT, signal));
    }
    return builder.build();
  }
}

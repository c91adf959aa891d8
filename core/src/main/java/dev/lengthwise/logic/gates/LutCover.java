package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A cover of a graph by LUTs: by gate, the leaves that the LUT in its place reads; null where there
 * is none.
 */
final class LutCover {
  private final AndGraph graph;
  private final int[][] leaves;
  private final int luts;
  private final int delay;

  LutCover(AndGraph graph, int[][] leaves, int luts, int delay) {
    this.graph = graph;
    this.leaves = leaves;
    this.luts = luts;
    this.delay = delay;
  }

  AndGraph graph() {
    return graph;
  }

  int[][] leaves() {
    return leaves;
  }

  int luts() {
    return luts;
  }

  /** Returns when the last output is there, as a model of delays has it. */
  int delay() {
    return delay;
  }

  private static final TruthTable NOT = TruthTable.parse("10");

  /** Returns the network, with inputs and outputs named as another network's. */
  LutNetwork network(List<String> inputs, List<String> outputs) {
    LutNetworkBuilder builder = LutNetwork.builder(inputs);
    boolean[] flipped = flipped();
    int[] signals = new int[graph.nodes()];
    for (int i = 1; i <= graph.inputs(); i++) {
      signals[i] = i - 1;
    }
    ConeWords words = new ConeWords(graph);
    for (int gate = graph.inputs() + 1; gate < graph.nodes(); gate++) {
      if (leaves[gate] != null) {
        long[] table = words.of(gate, leaves[gate]);
        int[] pins = Arrays.stream(leaves[gate]).map(leaf -> signals[leaf]).toArray();
        boolean flips = flipped[gate];
        // What reads a flipped LUT reads the inverter behind it, which the builder absorbs.
        int lut =
            builder.lut(
                TruthTable.of(pins.length, p -> ((table[p >> 6] >>> p & 1) != 0) != flips), pins);
        signals[gate] = flips ? builder.lut(NOT, lut) : lut;
      }
    }
    for (int i = 0; i < outputs.size(); i++) {
      int literal = graph.output(i);
      int signal =
          literal < 2
              ? literal == AndGraph.TRUE ? LutNetwork.ONE : LutNetwork.ZERO
              : (literal & 1) == 0
                  ? signals[literal >> 1]
                  : builder.lut(NOT, signals[literal >> 1]);
      builder.output(outputs.get(i), signal);
    }
    return builder.build();
  }

  /** Tells for each gate whether outputs read its complement only. */
  private boolean[] flipped() {
    boolean[] result = new boolean[graph.nodes()];
    Map<Integer, Integer> phases = new HashMap<>();
    for (int i = 0; i < graph.outputs(); i++) {
      phases.merge(graph.output(i) >> 1, 1 << (graph.output(i) & 1), (a, b) -> a | b);
    }
    phases.forEach((node, phase) -> result[node] = phase == 2);
    return result;
  }
}

package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.Arrays;
import java.util.List;

/** Turns the gates of a network into a graph of ANDs. */
final class GateGraph {

  private final AndGraph graph;
  private final Forms forms;

  private GateGraph(AndGraph graph, Forms forms) {
    this.graph = graph;
    this.forms = forms;
  }

  /** Returns the graph of a network whose inputs arrive at levels of ANDs. */
  static AndGraph of(LutNetwork gates, int[] arrivals, Forms forms) {
    AndGraph graph = new AndGraph(arrivals);
    GateGraph maker = new GateGraph(graph, forms);
    int inputs = gates.inputNames().size();
    int[] literals = new int[inputs + gates.luts().size()];
    for (int i = 0; i < inputs; i++) {
      literals[i] = 2 * (i + 1);
    }
    for (int i = 0; i < gates.luts().size(); i++) {
      LutNetwork.Lut lut = gates.luts().get(i);
      int[] leaves = lut.fanIns().stream().mapToInt(signal -> literals[signal]).toArray();
      literals[inputs + i] = maker.gate(lut.table(), leaves);
    }
    for (LutNetwork.Output output : gates.outputs()) {
      graph.addOutput(literal(output.signal(), literals));
    }
    return graph;
  }

  private static int literal(int signal, int[] literals) {
    return signal == LutNetwork.ZERO
        ? AndGraph.FALSE
        : signal == LutNetwork.ONE ? AndGraph.TRUE : literals[signal];
  }

  private int gate(TruthTable table, int[] leaves) {
    return expand(table.onWords(), table.inputs(), leaves);
  }

  /** Expands by the inputs beyond those of a form. */
  private int expand(long[] words, int inputs, int[] leaves) {
    if (inputs <= Forms.MOST_INPUTS) {
      List<Forms.Form> found = forms.small(spread(words[0], inputs));
      return found.get(0).build(graph, leaves);
    }
    int half = words.length / 2;
    int zero = expand(Arrays.copyOf(words, half), inputs - 1, leaves);
    int one = expand(Arrays.copyOfRange(words, half, 2 * half), inputs - 1, leaves);
    return graph.mux(leaves[inputs - 1], one, zero);
  }

  /** Repeats the points of a function of fewer than six inputs until they fill a word. */
  private static long spread(long table, int inputs) {
    long result = table;
    for (int i = inputs; i < Forms.MOST_INPUTS; i++) {
      result |= result << (1 << i);
    }
    return result;
  }
}

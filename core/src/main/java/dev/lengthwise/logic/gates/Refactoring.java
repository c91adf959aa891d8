package dev.lengthwise.logic.gates;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.List;

/**
 * Exchanges large cones for what factoring makes of their function: where it is smaller, or as
 * small and another.
 *
 * <p>The cone of a gate is opened at the leaf that adds the fewest further leaves, so that paths
 * that meet again lie inside.
 */
final class Refactoring {

  /** The leaves of a cone; its function has 1024 points then. */
  private static final int MOST_LEAVES = 10;

  private final AndGraph graph;
  private final ConeWords words;
  private final ConeExchange exchange;
  private final int[] required;
  private final int leastGain;

  private Refactoring(AndGraph graph, int[] order, int leastGain) {
    this.graph = graph;
    this.words = new ConeWords(graph);
    this.exchange = new ConeExchange(graph);
    this.required = exchange.required(order);
    this.leastGain = leastGain;
  }

  /**
   * Returns a graph of the same outputs, clean.
   *
   * @param equal whether a structure of the same size is taken
   */
  static AndGraph of(AndGraph old, boolean equal) {
    AndGraph graph = old.clean();
    int[] order = graph.order();
    Refactoring refactoring = new Refactoring(graph, order, equal ? 0 : 1);
    for (int i = 0; i < order.length; i++) {
      if ((i & 0xff) == 0) {
        Work.check();
      }
      if (graph.isGate(order[i])) {
        graph.settle(order[i]);
        refactoring.improve(order[i]);
      }
    }
    return graph.clean();
  }

  private void improve(int gate) {
    int[] leaves = leaves(gate);
    int saved = leaves.length < 3 ? 0 : exchange.open(gate, leaves);
    if (saved > 1) {
      exchange.close(gate, leaves);
      long[] table = words.of(gate, leaves);
      if (table == null) {
        return;
      }
      int[] arrivals = new int[leaves.length];
      for (int i = 0; i < leaves.length; i++) {
        arrivals[i] = graph.level(leaves[i]);
      }
      Forms.Form form = FactoredForm.of(table, arrivals);
      exchange.open(gate, leaves);
      int[] cost = exchange.cost(form, leaves, gate);
      exchange.close(gate, leaves);
      int most = Math.max(graph.level(gate), gate < required.length ? required[gate] : 0);
      if (cost != null && saved - cost[0] >= leastGain && cost[1] <= most) {
        exchange.exchange(gate, form, leaves);
      }
    } else if (leaves.length >= 3) {
      exchange.close(gate, leaves);
    }
  }

  private int[] leaves(int gate) {
    List<Integer> leaves = new ArrayList<>();
    leaves.add(graph.left(gate) >> 1);
    leaves.add(graph.right(gate) >> 1);
    for (int opened = cheapest(leaves); opened >= 0; opened = cheapest(leaves)) {
      int node = leaves.remove(opened);
      for (int next : new int[] {graph.left(node) >> 1, graph.right(node) >> 1}) {
        if (!leaves.contains(next)) {
          leaves.add(next);
        }
      }
    }
    return leaves.stream().mapToInt(Integer::intValue).toArray();
  }

  /** Returns the place of the leaf to open next, of equals the latest; -1 if there is none. */
  private int cheapest(List<Integer> leaves) {
    int best = -1;
    int least = Integer.MAX_VALUE;
    for (int i = 0; i < leaves.size(); i++) {
      int node = leaves.get(i);
      if (graph.isGate(node)) {
        int added = leaves.contains(graph.left(node) >> 1) ? -1 : 0;
        added += leaves.contains(graph.right(node) >> 1) ? 0 : 1;
        boolean later = added == least && graph.level(node) > graph.level(leaves.get(best));
        if (leaves.size() + added <= MOST_LEAVES && (added < least || later)) {
          least = added;
          best = i;
        }
      }
    }
    return best;
  }
}

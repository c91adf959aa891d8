package dev.lengthwise.logic.gates;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Counts what another structure of a cone would cost in a graph, and puts it in its place.
 *
 * <p>What a structure costs is counted with the gates that are there already, and what it saves
 * with those that nothing else reads.
 */
final class ConeExchange {

  private final AndGraph graph;
  private int saved;

  ConeExchange(AndGraph graph) {
    this.graph = graph;
  }

  /** Returns the level that each node may have without more levels in all; the graph in order. */
  int[] required(int[] order) {
    int[] required = new int[graph.nodes()];
    Arrays.fill(required, Integer.MAX_VALUE);
    int levels = 0;
    for (int i = 0; i < graph.outputs(); i++) {
      levels = Math.max(levels, graph.level(graph.output(i) >> 1));
    }
    for (int i = 0; i < graph.outputs(); i++) {
      required[graph.output(i) >> 1] = levels;
    }
    for (int i = order.length - 1; i >= 0; i--) {
      int most = required[order[i]] - 1;
      int left = graph.left(order[i]) >> 1;
      int right = graph.right(order[i]) >> 1;
      required[left] = Math.min(required[left], most);
      required[right] = Math.min(required[right], most);
    }
    return required;
  }

  /** Takes out what only a gate reads above some leaves, for a while; returns how much that is. */
  int open(int gate, int[] leaves) {
    for (int leaf : leaves) {
      graph.hold(leaf, 1);
    }
    saved = 0;
    leave(gate);
    return saved;
  }

  /** Puts back what {@link #open} took. */
  void close(int gate, int[] leaves) {
    take(gate);
    for (int leaf : leaves) {
      graph.hold(leaf, -1);
    }
  }

  void exchange(int gate, Forms.Form form, int[] leaves) {
    int literal = form.build(graph, Arrays.stream(leaves).map(leaf -> 2 * leaf).toArray());
    if (literal >> 1 != gate) {
      graph.replace(gate, literal);
    }
  }

  /** Frees what only a gate needs, and counts it. */
  private void leave(int gate) {
    saved++;
    for (int literal : new int[] {graph.left(gate), graph.right(gate)}) {
      int node = literal >> 1;
      graph.hold(node, -1);
      if (graph.readers(node) == 0 && graph.isGate(node)) {
        leave(node);
      }
    }
  }

  private void take(int gate) {
    for (int literal : new int[] {graph.left(gate), graph.right(gate)}) {
      int node = literal >> 1;
      if (graph.readers(node) == 0 && graph.isGate(node)) {
        take(node);
      }
      graph.hold(node, 1);
    }
  }

  /**
   * Counts the gates that a structure adds, and its level; null if the gate itself is in it.
   * Literals that are not there yet are numbered from the end of the graph on.
   */
  int @Nullable [] cost(Forms.Form form, int[] leaves, int gate) {
    int inner = 1 + form.inputs();
    int[] map = new int[inner + form.gates()];
    int[] level = new int[map.length];
    for (int i = 0; i < leaves.length; i++) {
      map[1 + i] = 2 * leaves[i];
      level[1 + i] = graph.level(leaves[i]);
    }
    int added = 0;
    for (int i = 0; i < form.gates(); i++) {
      int a = map[form.edge(2 * i) >> 1];
      int b = map[form.edge(2 * i + 1) >> 1];
      int found =
          a < 0 || b < 0 ? -1 : graph.find(a ^ form.edge(2 * i) & 1, b ^ form.edge(2 * i + 1) & 1);
      level[inner + i] =
          1 + Math.max(level[form.edge(2 * i) >> 1], level[form.edge(2 * i + 1) >> 1]);
      map[inner + i] = found;
      if (found < 0) {
        added++;
      } else if (found >> 1 == gate) {
        return null;
      } else {
        level[inner + i] = graph.level(found >> 1);
        added += graph.readers(found >> 1) == 0 && graph.isGate(found >> 1) ? 1 : 0;
      }
    }
    return new int[] {added, level[form.output() >> 1]};
  }
}

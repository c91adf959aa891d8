package dev.lengthwise.logic.gates;

import java.util.ArrayList;
import java.util.List;

/** Builds every conjunction anew as a tree in which what comes late passes the fewest gates. */
final class Balancing {

  private final AndGraph old;
  private final AndGraph graph;
  private final int[] map;

  private Balancing(AndGraph old) {
    this.old = old;
    this.graph = old.empty();
    this.map = new int[old.nodes()];
  }

  /** Returns a graph of the same outputs, clean. */
  static AndGraph of(AndGraph old) {
    Balancing balancing = new Balancing(old);
    for (int i = 1; i <= old.inputs(); i++) {
      balancing.map[i] = 2 * i;
    }
    for (int gate : old.order()) {
      balancing.map[gate] = balancing.build(gate);
    }
    for (int i = 0; i < old.outputs(); i++) {
      balancing.graph.addOutput(AndGraph.mapped(balancing.map, old.output(i)));
    }
    return balancing.graph.clean();
  }

  private int build(int gate) {
    List<Integer> operands = new ArrayList<>();
    collect(2 * gate, true, operands);
    List<Integer> literals = new ArrayList<>();
    for (int operand : operands) {
      literals.add(AndGraph.mapped(map, operand));
    }
    while (literals.size() > 1) {
      literals.sort(graph.latestFirst());
      int last = literals.remove(literals.size() - 1);
      literals.add(graph.and(last, literals.remove(partner(literals, last))));
    }
    return literals.get(0);
  }

  /** Among the earliest of the rest, one whose AND is there already, or else the last. */
  private int partner(List<Integer> literals, int literal) {
    int last = literals.size() - 1;
    int level = graph.level(literals.get(last) >> 1);
    for (int i = last; i >= 0 && graph.level(literals.get(i) >> 1) == level; i--) {
      if (graph.find(literals.get(i), literal) >= 0) {
        return i;
      }
    }
    return last;
  }

  /** Collects what a conjunction holds, through gates that nothing else reads. */
  private void collect(int literal, boolean isRoot, List<Integer> operands) {
    int node = literal >> 1;
    boolean opens = (literal & 1) == 0 && old.isGate(node) && (isRoot || old.readers(node) == 1);
    if (!opens) {
      if (!operands.contains(literal)) {
        operands.add(literal);
      }
      return;
    }
    collect(old.left(node), false, operands);
    collect(old.right(node), false, operands);
  }
}

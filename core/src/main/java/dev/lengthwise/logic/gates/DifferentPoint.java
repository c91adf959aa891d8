package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.sat.Sat;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;

/**
 * Looks for a point at which two signals of a graph differ, in a bounded search.
 *
 * <p>Points found are kept: most pairs that differ do so at one of them.
 */
final class DifferentPoint {

  /** The conflicts of one search. */
  private static final int MOST_CONFLICTS = 60;

  /** The searches in a graph; what is asked beyond them is not known. */
  private static final int MOST_SEARCHES = 300;

  private static final int POINTS_A_WORD = 64;

  private final AndGraph graph;
  private final Sat sat = Sat.create();
  private final int[] variables;
  private int searches;

  /** The value of each node computed so far at the points of the last word. */
  private long[] values;

  private boolean[] valued;
  private long[] inputs;
  private int points;

  DifferentPoint(AndGraph graph) {
    this.graph = graph;
    this.variables = new int[graph.nodes()];
    this.values = new long[graph.nodes()];
    this.valued = new boolean[graph.nodes()];
    this.inputs = new long[graph.inputs() + 1];
  }

  /** Tells whether there is none for certain. */
  boolean isNone(int one, int other) {
    if (points > 0 && differsAtPoints(one, other) || searches >= MOST_SEARCHES) {
      return false;
    }
    searches++;
    int a = variable(one);
    int b = variable(other);
    int either = sat.newVariable();
    sat.addClause(-either, a, b);
    sat.addClause(-either, -a, -b);
    Sat.Verdict verdict = sat.solve(MOST_CONFLICTS, either);
    if (verdict == Sat.Verdict.SATISFIABLE) {
      keepPoint();
    }
    sat.addClause(-either);
    return verdict == Sat.Verdict.UNSATISFIABLE;
  }

  private boolean differsAtPoints(int one, int other) {
    long difference = value(one) ^ value(other);
    return (difference & (points == POINTS_A_WORD ? -1L : (1L << points) - 1)) != 0;
  }

  private long value(int literal) {
    compute(literal >> 1);
    return values[literal >> 1] ^ -(literal & 1L);
  }

  /** Starts anew after as many points as a word has: later pairs tend to differ at late points. */
  private void keepPoint() {
    points = points == POINTS_A_WORD ? 0 : points;
    for (int i = 1; i <= graph.inputs(); i++) {
      long bit = variables[i] != 0 && sat.value(variables[i]) ? 1 : 0;
      inputs[i] = inputs[i] & ~(1L << points) | bit << points;
    }
    points++;
    Arrays.fill(valued, false);
  }

  private void compute(int node) {
    Deque<Integer> open = new ArrayDeque<>();
    open.push(node);
    while (!open.isEmpty()) {
      int top = open.peek();
      if (valued[top]) {
        open.pop();
      } else if (!graph.isGate(top)) {
        values[top] = inputs[top];
        valued[top] = true;
      } else if (valued[graph.left(top) >> 1] && valued[graph.right(top) >> 1]) {
        int left = graph.left(top);
        int right = graph.right(top);
        values[top] = (values[left >> 1] ^ -(left & 1L)) & (values[right >> 1] ^ -(right & 1L));
        valued[top] = true;
      } else {
        open.push(graph.left(top) >> 1);
        open.push(graph.right(top) >> 1);
      }
    }
  }

  /** Returns the solver's literal for one of the graph, with the clauses of the gates below it. */
  private int variable(int literal) {
    Deque<Integer> open = new ArrayDeque<>();
    open.push(literal >> 1);
    while (!open.isEmpty()) {
      int node = open.peek();
      if (variables[node] != 0) {
        open.pop();
      } else if (!graph.isGate(node)) {
        variables[node] = sat.newVariable();
        if (node == 0) {
          sat.addClause(-variables[0]);
        }
      } else if (variables[graph.left(node) >> 1] != 0 && variables[graph.right(node) >> 1] != 0) {
        addGate(node);
      } else {
        open.push(graph.left(node) >> 1);
        open.push(graph.right(node) >> 1);
      }
    }
    return signed(literal);
  }

  private void addGate(int gate) {
    int own = sat.newVariable();
    variables[gate] = own;
    int left = signed(graph.left(gate));
    int right = signed(graph.right(gate));
    sat.addClause(-own, left);
    sat.addClause(-own, right);
    sat.addClause(own, -left, -right);
  }

  private int signed(int literal) {
    return (literal & 1) == 0 ? variables[literal >> 1] : -variables[literal >> 1];
  }
}

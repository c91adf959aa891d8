package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.diagram.DecisionDiagrams;
import dev.lengthwise.logic.diagram.TooManyNodesException;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.jspecify.annotations.Nullable;

/**
 * Makes gates that always have the same value, or always the opposite one, one gate.
 *
 * <p>Values at random points tell which may be, and diagrams which are. Where those get large, a
 * bounded search for a point at which two differ may tell; else the gates stay as they are.
 */
final class EqualSignals {

  /** The nodes of all diagrams. */
  private static final int MOST_NODES = 150_000;

  /** The nodes that a gate may add before it counts as large. */
  private static final int MOST_ADDED = 2_000;

  private static final int WORDS = 4;

  private static final int LARGE = -1;

  private static final int UNKNOWN = -2;

  private final AndGraph graph;
  private final DecisionDiagrams diagrams;
  private final int[] diagram;
  private final long[][] values;
  private final Map<List<Long>, List<Integer>> alike = new HashMap<>();
  private final @Nullable DifferentPoint different;

  private EqualSignals(AndGraph graph, boolean searches) {
    this.graph = graph;
    this.different = searches ? new DifferentPoint(graph) : null;
    this.diagrams = new DecisionDiagrams(graph.inputs());
    this.diagram = new int[graph.nodes()];
    this.values = new long[graph.nodes()][WORDS];
    SplittableRandom random = new SplittableRandom(1);
    Arrays.fill(diagram, UNKNOWN);
    diagram[0] = 0;
    file(0);
    for (int i = 1; i <= graph.inputs(); i++) {
      diagram[i] = diagrams.variable(i - 1);
      Arrays.setAll(values[i], w -> random.nextLong());
      file(i);
    }
  }

  /**
   * Returns a graph of the same outputs, clean.
   *
   * @param searches whether points at which signals differ are searched for
   */
  static AndGraph merged(AndGraph old, boolean searches) {
    EqualSignals equal = new EqualSignals(old, searches);
    AndGraph graph = old.empty();
    int[] map = new int[old.nodes()];
    for (int i = 1; i <= old.inputs(); i++) {
      map[i] = 2 * i;
    }
    for (int gate : old.order()) {
      Work.check();
      int same = equal.same(gate);
      map[gate] =
          same >= 0
              ? AndGraph.mapped(map, same)
              : graph.and(
                  AndGraph.mapped(map, old.left(gate)), AndGraph.mapped(map, old.right(gate)));
    }
    for (int i = 0; i < old.outputs(); i++) {
      graph.addOutput(AndGraph.mapped(map, old.output(i)));
    }
    return graph.clean();
  }

  /** Returns the literal of an earlier node that is always the same as a gate, or -1. */
  private int same(int gate) {
    int left = graph.left(gate);
    int right = graph.right(gate);
    for (int w = 0; w < WORDS; w++) {
      values[gate][w] =
          (values[left >> 1][w] ^ -(left & 1L)) & (values[right >> 1][w] ^ -(right & 1L));
    }
    for (int other : file(gate)) {
      int odd = (int) ((values[gate][0] ^ values[other][0]) & 1);
      if (other != gate && isSame(gate, 2 * other | odd)) {
        return 2 * other | odd;
      }
    }
    return -1;
  }

  private boolean isSame(int gate, int literal) {
    int own = diagram(gate);
    int its = diagram(literal >> 1);
    if (own == LARGE || its == LARGE) {
      return different != null && different.isNone(2 * gate, literal);
    }
    return own == ((literal & 1) == 0 ? its : diagrams.choose(its, 0, 1));
  }

  /** Files a node by its values, and returns those that have the same or all opposite ones. */
  private List<Integer> file(int node) {
    long odd = -(values[node][0] & 1);
    List<Long> even = Arrays.stream(values[node]).mapToObj(word -> word ^ odd).toList();
    List<Integer> found = alike.computeIfAbsent(even, k -> new ArrayList<>());
    found.add(node);
    return found;
  }

  private int diagram(int node) {
    if (diagram[node] == UNKNOWN) {
      int left = diagram(graph.left(node) >> 1);
      int right = left == LARGE ? LARGE : diagram(graph.right(node) >> 1);
      diagram[node] = right == LARGE || diagrams.size() > MOST_NODES ? LARGE : both(node);
    }
    return diagram[node];
  }

  /** Returns the diagram of a gate whose fan-ins have theirs. */
  private int both(int gate) {
    int before = diagrams.size();
    diagrams.bound(before + MOST_ADDED);
    try {
      int own = diagrams.and(edge(graph.left(gate)), edge(graph.right(gate)));
      return diagrams.size() - before > MOST_ADDED ? LARGE : own;
    } catch (TooManyNodesException e) {
      return LARGE;
    } finally {
      diagrams.bound(Integer.MAX_VALUE);
    }
  }

  private int edge(int literal) {
    int own = diagram[literal >> 1];
    return (literal & 1) == 0 ? own : diagrams.choose(own, 0, 1);
  }
}

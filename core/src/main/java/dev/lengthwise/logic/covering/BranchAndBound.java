package dev.lengthwise.logic.covering;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * Branch and bound on one block of a covering problem.
 *
 * <p>At each node: reductions, the Lagrangian bound, and removal of columns whose reduced cost
 * alone passes the best solution; then a branch on the columns of a row with the fewest, where a
 * column tried is forbidden to its later siblings.
 */
final class BranchAndBound {

  private static final int STEPS_AT_NODE = 60;

  private final CoveringProblem matrix;
  private final LagrangianBound bound;
  private final int mostNodes;
  private final List<Integer> path = new ArrayList<>();
  private List<Integer> best;
  private int bestCost;
  private int nodes;

  BranchAndBound(CoveringProblem matrix, LagrangianBound bound, List<Integer> best, int mostNodes) {
    this.matrix = matrix;
    this.bound = bound;
    this.best = best;
    this.bestCost = matrix.cost(best);
    this.mostNodes = mostNodes;
  }

  /** Searches the whole tree or until the nodes are used up. */
  void run(double[] prices) {
    visit(CyclicCore.all(matrix), prices.clone(), 0);
  }

  /** Tells whether the tree was searched to its end, so that the best solution is proved. */
  boolean complete() {
    return nodes <= mostNodes;
  }

  List<Integer> best() {
    return best;
  }

  private void visit(CyclicCore state, double[] prices, int costSoFar) {
    nodes++;
    if (!complete()) {
      return;
    }
    int depth = path.size();
    int cost = costSoFar;
    boolean changed = true;
    while (changed) {
      Work.check();
      int before = path.size();
      boolean feasible = state.reduce(path);
      for (int i = before; i < path.size(); i++) {
        cost += matrix.cost(path.get(i));
      }
      if (!feasible || cost >= bestCost) {
        cut(depth);
        return;
      }
      if (state.isDone()) {
        best = new ArrayList<>(path);
        best.sort(null);
        bestCost = cost;
        cut(depth);
        return;
      }
      double lower = bound.raise(state, prices, bestCost - cost, STEPS_AT_NODE);
      if (cost + CoveringSolver.ceil(lower) >= bestCost) {
        cut(depth);
        return;
      }
      changed = forbidDear(state, cost + lower);
    }
    branch(state, prices, cost);
    cut(depth);
  }

  private void branch(CyclicCore state, double[] prices, int cost) {
    int row = narrowestRow(state, prices);
    List<Integer> columns = new ArrayList<>();
    for (int c : matrix.rowList()[row]) {
      if (BitSet64.has(state.cols(), c)) {
        columns.add(c);
      }
    }
    double[] reduced = new double[matrix.cols()];
    columns.forEach(c -> reduced[c] = bound.reduced(c));
    columns.sort(Comparator.comparingDouble((Integer c) -> reduced[c]).thenComparingInt(c -> c));
    for (int c : columns) {
      CyclicCore child = state.copy();
      child.take(c);
      path.add(c);
      visit(child, prices.clone(), cost + matrix.cost(c));
      path.remove(path.size() - 1);
      if (!complete()) {
        return;
      }
      state.forbid(c);
    }
  }

  /** Forbids columns that can be in no solution better than the best. */
  private boolean forbidDear(CyclicCore state, double lower) {
    boolean any = false;
    long[] cols = state.cols();
    for (int c = BitSet64.next(cols, 0); c >= 0; c = BitSet64.next(cols, c + 1)) {
      if (bound.reduced(c) > 0 && CoveringSolver.ceil(lower + bound.reduced(c)) >= bestCost) {
        state.forbid(c);
        any = true;
      }
    }
    return any;
  }

  private int narrowestRow(CyclicCore state, double[] prices) {
    int chosen = -1;
    int fewest = Integer.MAX_VALUE;
    long[] rows = state.rows();
    for (int r = BitSet64.next(rows, 0); r >= 0; r = BitSet64.next(rows, r + 1)) {
      int count = BitSet64.countBoth(matrix.rowCols(r), state.cols());
      if (count < fewest || (count == fewest && prices[r] > prices[chosen])) {
        chosen = r;
        fewest = count;
      }
    }
    return chosen;
  }

  private void cut(int depth) {
    while (path.size() > depth) {
      path.remove(path.size() - 1);
    }
  }
}

package dev.lengthwise.logic.covering;

import java.util.ArrayList;
import java.util.List;

/**
 * Solves covering problems: reduces, splits into blocks, then bounds, searches and branches.
 *
 * <p>All limits are counted in steps, never in time, so a result is the same on every machine.
 */
public final class CoveringSolver {

  /** How hard to try on each block; {@code nodes} 0 means no branching. */
  public record Effort(int searchSteps, int boundSteps, int nodes) {}

  /** Columns of a solution, its cost, and a cost that no solution can be below. */
  public record Solution(List<Integer> columns, int cost, int lowerBound) {

    public boolean proved() {
      return cost == lowerBound;
    }
  }

  private static final long SEED = 0x5eed_c0deL;

  private final Effort effort;

  public CoveringSolver(Effort effort) {
    this.effort = effort;
  }

  /**
   * Solves a problem.
   *
   * @param matrix the problem; each row must meet a column
   * @param known a solution to start from, or empty
   * @return the best solution found and the bound
   */
  public Solution solve(CoveringProblem matrix, List<Integer> known) {
    CyclicCore state = CyclicCore.all(matrix);
    List<Integer> chosen = new ArrayList<>();
    if (!state.reduce(chosen)) {
      throw new IllegalArgumentException("covering problem: each row must meet a column");
    }
    int lower = matrix.cost(chosen);
    for (long[] block : state.blocks()) {
      int[] columns = state.columnsOf(block);
      CoveringProblem part = matrix.part(block, columns);
      Solution solution = solveBlock(part);
      solution.columns().forEach(c -> chosen.add(columns[c]));
      lower += solution.lowerBound();
    }
    List<Integer> best = matrix.irredundant(chosen);
    if (!known.isEmpty() && matrix.cost(known) < matrix.cost(best)) {
      best = List.copyOf(known);
    }
    return new Solution(best, matrix.cost(best), lower);
  }

  private Solution solveBlock(CoveringProblem part) {
    CyclicCore state = CyclicCore.all(part);
    LagrangianBound bound = new LagrangianBound(part);
    double[] prices = bound.firstPrices();
    WeightedLocalSearch search = new WeightedLocalSearch(part, SEED);
    List<Integer> best = search.search(List.of(), 0, Math.min(2000, effort.searchSteps()));
    int upper = part.cost(best);
    int lower = ceil(bound.raise(state, prices, upper, effort.boundSteps()));
    if (lower < upper) {
      best = new WeightedLocalSearch(part, SEED + 1).search(best, lower, effort.searchSteps());
      upper = part.cost(best);
    }
    if (lower < upper && effort.nodes() > 0) {
      // The tree grows exponentially with the gap, so a wide gap is given up early.
      int gap = upper - lower;
      int nodes = part.isUnit() ? 1 + effort.nodes() / (gap * gap) : effort.nodes();
      BranchAndBound branch = new BranchAndBound(part, bound, best, nodes);
      branch.run(prices);
      best = branch.best();
      upper = part.cost(best);
      lower = branch.complete() ? upper : Math.min(lower, upper);
    }
    return new Solution(best, upper, Math.min(lower, upper));
  }

  static int ceil(double bound) {
    return (int) Math.ceil(bound - LagrangianBound.SLACK);
  }
}

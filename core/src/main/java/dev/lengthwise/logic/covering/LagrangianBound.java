package dev.lengthwise.logic.covering;

import dev.lengthwise.work.Work;

/**
 * Lower bounds of a covering problem by Lagrangian relaxation of the rows.
 *
 * <p>Each live row has a price; the bound is the sum of prices plus the negative reduced costs of
 * columns. The first prices are a dual feasible solution (each row pays its share of its cheapest
 * column), and subgradient steps raise them. Any prices give a valid bound.
 */
final class LagrangianBound {

  /** Sums of prices are rounded; a bound must pass the integer by this much to count. */
  static final double SLACK = 1e-6;

  private final CoveringProblem matrix;
  private final double[] prices;
  private final double[] reduced;
  private final double[] bestPrices;
  private final int[] met;

  LagrangianBound(CoveringProblem matrix) {
    this.matrix = matrix;
    this.prices = new double[matrix.rows()];
    this.reduced = new double[matrix.cols()];
    this.bestPrices = new double[matrix.rows()];
    this.met = new int[matrix.rows()];
  }

  /** Returns prices to start from when nothing better is known. */
  double[] firstPrices() {
    double[] first = new double[matrix.rows()];
    for (int r = 0; r < first.length; r++) {
      double share = Double.MAX_VALUE;
      for (int c : matrix.rowList()[r]) {
        share = Math.min(share, (double) matrix.cost(c) / matrix.colList()[c].length);
      }
      first[r] = share;
    }
    return first;
  }

  /**
   * Raises the prices by subgradient steps.
   *
   * @param state the live part
   * @param start where to start; receives the best prices found
   * @param upper a cost to reach: stops when the bound says that no solution below it exists
   * @param steps the most steps
   * @return the best bound
   */
  double raise(CyclicCore state, double[] start, int upper, int steps) {
    System.arraycopy(start, 0, prices, 0, prices.length);
    double best = -1;
    double scale = 1.6;
    int stale = 0;
    for (int step = 0; step < steps; step++) {
      Work.check();
      double bound = value(state);
      if (bound > best + 1e-9) {
        stale = bound > best + 1e-3 ? 0 : stale + 1;
        best = bound;
        System.arraycopy(prices, 0, bestPrices, 0, prices.length);
      } else {
        stale++;
      }
      if (Math.ceil(best - SLACK) >= upper || scale < 0.005) {
        break;
      }
      if (stale >= 12) {
        stale = 0;
        scale *= 0.6;
        System.arraycopy(bestPrices, 0, prices, 0, prices.length);
        continue;
      }
      if (!move(state, scale * (1.02 * upper - bound))) {
        break;
      }
    }
    System.arraycopy(bestPrices, 0, prices, 0, prices.length);
    value(state);
    System.arraycopy(bestPrices, 0, start, 0, prices.length);
    return best;
  }

  /** Returns the reduced cost of a live column at the best prices. */
  double reduced(int column) {
    return reduced[column];
  }

  private double value(CyclicCore state) {
    double sum = 0;
    for (int r = 0; r < prices.length; r++) {
      met[r] = 0;
      if (BitSet64.has(state.rows(), r)) {
        sum += prices[r];
      } else {
        prices[r] = 0;
      }
    }
    long[] cols = state.cols();
    for (int c = BitSet64.next(cols, 0); c >= 0; c = BitSet64.next(cols, c + 1)) {
      double left = matrix.cost(c);
      for (int r : matrix.colList()[c]) {
        left -= prices[r];
      }
      reduced[c] = left;
      if (left < 0) {
        sum += left;
        for (int r : matrix.colList()[c]) {
          met[r]++;
        }
      }
    }
    return sum;
  }

  private boolean move(CyclicCore state, double force) {
    long norm = 0;
    long[] rows = state.rows();
    for (int r = BitSet64.next(rows, 0); r >= 0; r = BitSet64.next(rows, r + 1)) {
      int g = 1 - met[r];
      if (g > 0 || prices[r] > 0) {
        norm += (long) g * g;
      }
    }
    if (norm == 0) {
      return false;
    }
    double length = force / norm;
    for (int r = BitSet64.next(rows, 0); r >= 0; r = BitSet64.next(rows, r + 1)) {
      prices[r] = Math.max(0, prices[r] + length * (1 - met[r]));
    }
    return true;
  }
}

package dev.lengthwise.logic.covering;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Upper bounds of a covering problem by local search with row weights.
 *
 * <p>Whenever every row is satisfied the solution is kept and the least useful column leaves; then
 * columns are swapped: one leaves, one that holds an unsatisfied row enters, and rows that stay
 * unsatisfied gain weight, so that hard rows steer the search. A column that left may enter again
 * only after a neighbour changed (configuration checking). Seeded and counted in steps, hence
 * repeatable.
 */
final class WeightedLocalSearch {

  private final CoveringProblem matrix;
  private final Random random;
  private final int[] weight;
  private final int[] holders;
  private final long[] score;
  private final boolean[] in;
  private final boolean[] mayEnter;
  private final long[] moved;
  private final int[] open;
  private final int[] openAt;
  private final int[] members;
  private final int[] memberAt;
  private int openCount;
  private int memberCount;
  private int lastEntered = -1;
  private int cost;

  WeightedLocalSearch(CoveringProblem matrix, long seed) {
    this.matrix = matrix;
    this.random = new Random(seed);
    int rows = matrix.rows();
    int cols = matrix.cols();
    weight = new int[rows];
    holders = new int[rows];
    open = new int[rows];
    openAt = new int[rows];
    score = new long[cols];
    in = new boolean[cols];
    mayEnter = new boolean[cols];
    moved = new long[cols];
    members = new int[cols];
    memberAt = new int[cols];
    for (int r = 0; r < rows; r++) {
      weight[r] = 1;
      openAt[r] = openCount;
      open[openCount++] = r;
    }
    for (int c = 0; c < cols; c++) {
      mayEnter[c] = true;
      score[c] = matrix.colList()[c].length;
    }
  }

  /**
   * Searches.
   *
   * @param start a solution to start from, or empty for a greedy one
   * @param goal stops at a solution of this cost
   * @param steps the most steps
   * @return the best solution, in ascending order of columns
   */
  List<Integer> search(List<Integer> start, int goal, int steps) {
    for (int c : start) {
      enter(c);
    }
    while (openCount > 0) {
      enter(bestEntering());
    }
    List<Integer> best = snapshot();
    int bestCost = matrix.cost(best);
    for (int step = 1; step <= steps && bestCost > goal; step++) {
      Work.check();
      while (openCount == 0) {
        List<Integer> found = snapshot();
        if (matrix.cost(found) < bestCost) {
          best = found;
          bestCost = matrix.cost(found);
        }
        if (bestCost <= goal || memberCount == 0) {
          return best;
        }
        leave(leastUseful(false), step);
      }
      if (memberCount > 0) {
        leave(leastUseful(true), step);
      }
      swapIn(step, bestCost);
    }
    return best;
  }

  private void swapIn(int step, int bestCost) {
    while (openCount > 0) {
      int row = open[random.nextInt(openCount)];
      int chosen = -1;
      for (int c : matrix.rowList()[row]) {
        if (mayEnter[c] && (chosen < 0 || better(c, chosen))) {
          chosen = c;
        }
      }
      if (chosen < 0 || cost + matrix.cost(chosen) >= bestCost) {
        break;
      }
      enter(chosen);
      moved[chosen] = step;
      lastEntered = chosen;
      for (int i = 0; i < openCount; i++) {
        raiseWeight(open[i]);
      }
    }
    for (int i = 0; i < openCount && memberCount == 0; i++) {
      raiseWeight(open[i]);
    }
  }

  private void raiseWeight(int row) {
    weight[row]++;
    for (int c : matrix.rowList()[row]) {
      score[c]++;
    }
  }

  /** Greater score for its cost, then longer untouched, then lower number. */
  private boolean better(int a, int b) {
    long left = score[a] * matrix.cost(b);
    long right = score[b] * matrix.cost(a);
    return left != right ? left > right : moved[a] != moved[b] ? moved[a] < moved[b] : a < b;
  }

  private int bestEntering() {
    int chosen = -1;
    for (int c = 0; c < in.length; c++) {
      if (!in[c] && score[c] > 0 && (chosen < 0 || better(c, chosen))) {
        chosen = c;
      }
    }
    return chosen;
  }

  private int leastUseful(boolean keepLast) {
    int chosen = -1;
    for (int i = 0; i < memberCount; i++) {
      int c = members[i];
      if (keepLast && c == lastEntered && memberCount > 1) {
        continue;
      }
      if (chosen < 0 || lesser(c, chosen)) {
        chosen = c;
      }
    }
    return chosen;
  }

  /** Smaller loss for its cost, then longer untouched, then lower number. */
  private boolean lesser(int a, int b) {
    long left = -score[a] * matrix.cost(b);
    long right = -score[b] * matrix.cost(a);
    return left != right ? left < right : moved[a] != moved[b] ? moved[a] < moved[b] : a < b;
  }

  private void enter(int column) {
    in[column] = true;
    cost += matrix.cost(column);
    score[column] = -score[column];
    memberAt[column] = memberCount;
    members[memberCount++] = column;
    for (int r : matrix.colList()[column]) {
      holders[r]++;
      if (holders[r] == 1) {
        int last = open[--openCount];
        open[openAt[r]] = last;
        openAt[last] = openAt[r];
        for (int c : matrix.rowList()[r]) {
          if (c != column) {
            score[c] -= weight[r];
            mayEnter[c] = true;
          }
        }
      } else {
        boolean second = holders[r] == 2;
        for (int c : matrix.rowList()[r]) {
          if (c != column) {
            mayEnter[c] = true;
            if (second && in[c]) {
              score[c] += weight[r];
            }
          }
        }
      }
    }
  }

  private void leave(int column, int step) {
    in[column] = false;
    cost -= matrix.cost(column);
    score[column] = -score[column];
    mayEnter[column] = false;
    moved[column] = step;
    int last = members[--memberCount];
    members[memberAt[column]] = last;
    memberAt[last] = memberAt[column];
    for (int r : matrix.colList()[column]) {
      holders[r]--;
      if (holders[r] == 0) {
        openAt[r] = openCount;
        open[openCount++] = r;
      }
      for (int c : matrix.rowList()[r]) {
        if (c == column) {
          continue;
        }
        mayEnter[c] = true;
        if (holders[r] == 0) {
          score[c] += weight[r];
        } else if (holders[r] == 1 && in[c]) {
          score[c] -= weight[r];
        }
      }
    }
  }

  private List<Integer> snapshot() {
    List<Integer> columns = new ArrayList<>();
    for (int c = 0; c < in.length; c++) {
      if (in[c]) {
        columns.add(c);
      }
    }
    return matrix.irredundant(columns);
  }
}

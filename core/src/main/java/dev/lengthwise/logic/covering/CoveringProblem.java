package dev.lengthwise.logic.covering;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A set covering problem: choose columns of least total cost so that each row meets one.
 *
 * <p>In two-level minimisation a row is a 1 of one output at one point and a column is a prime. The
 * matrix never changes; solvers narrow it with sets of live rows and columns.
 */
public final class CoveringProblem {

  private final int[][] rowList;
  private final int[][] colList;
  private final long[][] rowCols;
  private final long[][] colRows;
  private final int[] cost;

  private CoveringProblem(int rows, int[][] colList, int[] cost) {
    this.colList = colList;
    this.cost = cost;
    int[] degree = new int[rows];
    colRows = new long[colList.length][];
    for (int c = 0; c < colList.length; c++) {
      colRows[c] = BitSet64.none(rows);
      for (int r : colList[c]) {
        BitSet64.set(colRows[c], r);
        degree[r]++;
      }
    }
    rowList = new int[rows][];
    rowCols = new long[rows][];
    for (int r = 0; r < rows; r++) {
      rowList[r] = new int[degree[r]];
      rowCols[r] = BitSet64.none(colList.length);
    }
    Arrays.fill(degree, 0);
    for (int c = 0; c < colList.length; c++) {
      for (int r : colList[c]) {
        rowList[r][degree[r]++] = c;
        BitSet64.set(rowCols[r], c);
      }
    }
  }

  /** Builds a problem from the rows of each column. */
  public static CoveringProblem of(int rows, int[][] colList, int[] cost) {
    return new CoveringProblem(rows, colList, cost);
  }

  /** Returns the part made of the live rows and columns, both renumbered in order. */
  CoveringProblem part(long[] liveRows, int[] columns) {
    int[] number = new int[rows()];
    int rows = 0;
    for (int r = BitSet64.next(liveRows, 0); r >= 0; r = BitSet64.next(liveRows, r + 1)) {
      number[r] = rows++;
    }
    int[][] lists = new int[columns.length][];
    int[] costs = new int[columns.length];
    for (int c = 0; c < columns.length; c++) {
      costs[c] = cost[columns[c]];
      lists[c] =
          Arrays.stream(colList[columns[c]])
              .filter(r -> BitSet64.has(liveRows, r))
              .map(r -> number[r])
              .toArray();
    }
    return new CoveringProblem(rows, lists, costs);
  }

  /** Returns the same problem with other costs. */
  public CoveringProblem withCost(int[] costs) {
    return new CoveringProblem(rows(), colList, costs);
  }

  public int rows() {
    return rowList.length;
  }

  public int cols() {
    return colList.length;
  }

  public int[][] rowList() {
    return rowList;
  }

  int[][] colList() {
    return colList;
  }

  long[] rowCols(int row) {
    return rowCols[row];
  }

  long[] colRows(int column) {
    return colRows[column];
  }

  int cost(int column) {
    return cost[column];
  }

  /** Tells whether every column costs 1. */
  boolean isUnit() {
    return Arrays.stream(cost).allMatch(c -> c == 1);
  }

  int cost(List<Integer> columns) {
    return columns.stream().mapToInt(c -> cost[c]).sum();
  }

  /** Returns the columns in order, less those that the others make superfluous, dearest first. */
  List<Integer> irredundant(List<Integer> columns) {
    int[] holders = new int[rows()];
    for (int c : columns) {
      for (int r : colList[c]) {
        holders[r]++;
      }
    }
    List<Integer> dearFirst = new ArrayList<>(columns);
    dearFirst.sort((a, b) -> cost[a] != cost[b] ? cost[b] - cost[a] : b - a);
    List<Integer> kept = new ArrayList<>();
    for (int c : dearFirst) {
      if (Arrays.stream(colList[c]).allMatch(r -> holders[r] > 1)) {
        for (int r : colList[c]) {
          holders[r]--;
        }
      } else {
        kept.add(c);
      }
    }
    kept.sort(null);
    return kept;
  }

  /** Swaps columns, one at a time, for cheaper ones that hold what only they hold. */
  public List<Integer> cheapened(List<Integer> columns) {
    List<Integer> result = new ArrayList<>(columns);
    boolean changed = true;
    while (changed) {
      changed = false;
      for (int i = 0; i < result.size(); i++) {
        int better = cheaper(result, result.get(i));
        if (better >= 0) {
          result.set(i, better);
          changed = true;
        }
      }
    }
    return irredundant(result);
  }

  private int cheaper(List<Integer> columns, int column) {
    long[] alone = colRows[column].clone();
    for (int other : columns) {
      if (other != column) {
        BitSet64.drop(alone, colRows[other]);
      }
    }
    long[] fit = BitSet64.all(cols());
    for (int r = BitSet64.next(alone, 0); r >= 0; r = BitSet64.next(alone, r + 1)) {
      BitSet64.keep(fit, rowCols[r]);
    }
    int best = -1;
    for (int c = BitSet64.next(fit, 0); c >= 0; c = BitSet64.next(fit, c + 1)) {
      if (cost[c] < (best < 0 ? cost[column] : cost[best])) {
        best = c;
      }
    }
    return best;
  }
}

package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A set covering problem: choose columns of least total cost so that each row meets one.
 *
 * <p>In two-level minimisation a row is a 1 of one output at one point and a column is a prime. The
 * matrix never changes; solvers narrow it with sets of live rows and columns.
 */
final class CoverMatrix {

  private final int[][] rowList;
  private final int[][] colList;
  private final long[][] rowCols;
  private final long[][] colRows;
  private final int[] cost;

  private CoverMatrix(int rows, int[][] colList, int[] cost) {
    this.colList = colList;
    this.cost = cost;
    int[] degree = new int[rows];
    colRows = new long[colList.length][];
    for (int c = 0; c < colList.length; c++) {
      colRows[c] = CoverBits.none(rows);
      for (int r : colList[c]) {
        CoverBits.set(colRows[c], r);
        degree[r]++;
      }
    }
    rowList = new int[rows][];
    rowCols = new long[rows][];
    for (int r = 0; r < rows; r++) {
      rowList[r] = new int[degree[r]];
      rowCols[r] = CoverBits.none(colList.length);
    }
    Arrays.fill(degree, 0);
    for (int c = 0; c < colList.length; c++) {
      for (int r : colList[c]) {
        rowList[r][degree[r]++] = c;
        CoverBits.set(rowCols[r], c);
      }
    }
  }

  /** Builds the problem "hold each needed point of each output", every column costing 1. */
  static CoverMatrix of(TwoLevelSpec spec, List<Cube> cubes) {
    int[] firstRow = new int[spec.points() + 1];
    for (int p = 0; p < spec.points(); p++) {
      firstRow[p + 1] = firstRow[p] + Long.bitCount(spec.needed(p));
    }
    int[][] lists = new int[cubes.size()][];
    int[] buffer = new int[firstRow[spec.points()]];
    for (int c = 0; c < lists.length; c++) {
      Cube cube = cubes.get(c);
      int size = 0;
      for (int p = cube.value(); p >= 0; p = cube.nextPoint(p)) {
        long needed = spec.needed(p);
        for (long held = needed & cube.outputs(); held != 0; held &= held - 1) {
          long below = Long.lowestOneBit(held) - 1;
          buffer[size++] = firstRow[p] + Long.bitCount(needed & below);
        }
      }
      lists[c] = Arrays.copyOf(buffer, size);
    }
    int[] cost = new int[lists.length];
    Arrays.fill(cost, 1);
    return new CoverMatrix(firstRow[spec.points()], lists, cost);
  }

  /** Builds a problem from the rows of each column. */
  static CoverMatrix of(int rows, int[][] colList, int[] cost) {
    return new CoverMatrix(rows, colList, cost);
  }

  /** Returns the part made of the live rows and columns, both renumbered in order. */
  CoverMatrix part(long[] liveRows, int[] columns) {
    int[] number = new int[rows()];
    int rows = 0;
    for (int r = CoverBits.next(liveRows, 0); r >= 0; r = CoverBits.next(liveRows, r + 1)) {
      number[r] = rows++;
    }
    int[][] lists = new int[columns.length][];
    int[] costs = new int[columns.length];
    for (int c = 0; c < columns.length; c++) {
      costs[c] = cost[columns[c]];
      lists[c] =
          Arrays.stream(colList[columns[c]])
              .filter(r -> CoverBits.has(liveRows, r))
              .map(r -> number[r])
              .toArray();
    }
    return new CoverMatrix(rows, lists, costs);
  }

  /** Returns the same problem with other costs. */
  CoverMatrix withCost(int[] costs) {
    return new CoverMatrix(rows(), colList, costs);
  }

  int rows() {
    return rowList.length;
  }

  int cols() {
    return colList.length;
  }

  int[][] rowList() {
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
  List<Integer> cheapened(List<Integer> columns) {
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
        CoverBits.drop(alone, colRows[other]);
      }
    }
    long[] fit = CoverBits.all(cols());
    for (int r = CoverBits.next(alone, 0); r >= 0; r = CoverBits.next(alone, r + 1)) {
      CoverBits.keep(fit, rowCols[r]);
    }
    int best = -1;
    for (int c = CoverBits.next(fit, 0); c >= 0; c = CoverBits.next(fit, c + 1)) {
      if (cost[c] < (best < 0 ? cost[column] : cost[best])) {
        best = c;
      }
    }
    return best;
  }
}

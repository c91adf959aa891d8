package dev.lengthwise.logic.covering;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The live rows and columns of a covering problem, and the textbook reductions on them.
 *
 * <p>Essential columns, row dominance and column dominance are applied until nothing changes; what
 * is left is the cyclic core.
 */
final class CyclicCore {

  private final CoveringProblem matrix;
  private final long[] rows;
  private final long[] cols;

  private CyclicCore(CoveringProblem matrix, long[] rows, long[] cols) {
    this.matrix = matrix;
    this.rows = rows;
    this.cols = cols;
  }

  static CyclicCore all(CoveringProblem matrix) {
    return new CyclicCore(matrix, BitSet64.all(matrix.rows()), BitSet64.all(matrix.cols()));
  }

  CyclicCore copy() {
    return new CyclicCore(matrix, rows.clone(), cols.clone());
  }

  long[] rows() {
    return rows;
  }

  long[] cols() {
    return cols;
  }

  boolean isDone() {
    return BitSet64.isEmpty(rows);
  }

  /** Takes a column: its rows are satisfied. */
  void take(int column) {
    BitSet64.drop(rows, matrix.colRows(column));
    BitSet64.clear(cols, column);
  }

  /** Forbids a column. */
  void forbid(int column) {
    BitSet64.clear(cols, column);
  }

  /**
   * Reduces to the cyclic core.
   *
   * @param chosen receives the columns that became essential
   * @return false if some row can no longer be satisfied
   */
  boolean reduce(List<Integer> chosen) {
    boolean changed = true;
    while (changed) {
      Work.check();
      int before = chosen.size();
      if (!takeEssential(chosen)) {
        return false;
      }
      boolean rowsFell = dropDominatedRows();
      boolean colsFell = dropDominatedColumns();
      changed = chosen.size() > before || rowsFell || colsFell;
    }
    return true;
  }

  private boolean takeEssential(List<Integer> chosen) {
    for (int r = BitSet64.next(rows, 0); r >= 0; r = BitSet64.next(rows, r + 1)) {
      int first = BitSet64.nextBoth(matrix.rowCols(r), cols, 0);
      if (first < 0) {
        return false;
      }
      if (BitSet64.nextBoth(matrix.rowCols(r), cols, first + 1) < 0) {
        chosen.add(first);
        take(first);
      }
    }
    return true;
  }

  /** A row that meets all columns of another row is satisfied with it. */
  private boolean dropDominatedRows() {
    boolean fell = false;
    for (int r = BitSet64.next(rows, 0); r >= 0; r = BitSet64.next(rows, r + 1)) {
      long[] wider = rows.clone();
      BitSet64.clear(wider, r);
      for (int c : matrix.rowList()[r]) {
        if (BitSet64.has(cols, c)) {
          BitSet64.keep(wider, matrix.colRows(c));
        }
      }
      if (!BitSet64.isEmpty(wider)) {
        BitSet64.drop(rows, wider);
        fell = true;
      }
    }
    return fell;
  }

  /** A column whose rows another column holds at no greater cost is not needed. */
  private boolean dropDominatedColumns() {
    boolean fell = false;
    for (int c = matrix.cols() - 1; c >= 0; c--) {
      if (!BitSet64.has(cols, c)) {
        continue;
      }
      long[] wider = cols.clone();
      BitSet64.clear(wider, c);
      boolean useful = false;
      for (int r : matrix.colList()[c]) {
        if (BitSet64.has(rows, r)) {
          useful = true;
          BitSet64.keep(wider, matrix.rowCols(r));
        }
      }
      if (!useful || anyNotDearer(wider, matrix.cost(c))) {
        BitSet64.clear(cols, c);
        fell = true;
      }
    }
    return fell;
  }

  private boolean anyNotDearer(long[] columns, int cost) {
    for (int c = BitSet64.next(columns, 0); c >= 0; c = BitSet64.next(columns, c + 1)) {
      if (matrix.cost(c) <= cost) {
        return true;
      }
    }
    return false;
  }

  /** Splits the live part into blocks that share no column; each is a set of rows. */
  List<long[]> blocks() {
    List<long[]> blocks = new ArrayList<>();
    long[] left = rows.clone();
    for (int r = BitSet64.next(left, 0); r >= 0; r = BitSet64.next(left, 0)) {
      long[] block = BitSet64.none(matrix.rows());
      int[] queue = new int[matrix.rows()];
      int size = 0;
      queue[size++] = r;
      BitSet64.clear(left, r);
      for (int head = 0; head < size; head++) {
        int row = queue[head];
        BitSet64.set(block, row);
        for (int c : matrix.rowList()[row]) {
          if (!BitSet64.has(cols, c)) {
            continue;
          }
          for (int other : matrix.colList()[c]) {
            if (BitSet64.has(left, other)) {
              BitSet64.clear(left, other);
              queue[size++] = other;
            }
          }
        }
      }
      blocks.add(block);
    }
    return blocks;
  }

  /** Returns the live columns that meet the rows. */
  int[] columnsOf(long[] block) {
    int[] result = new int[matrix.cols()];
    int size = 0;
    for (int c = BitSet64.next(cols, 0); c >= 0; c = BitSet64.next(cols, c + 1)) {
      if (BitSet64.meet(matrix.colRows(c), block)) {
        result[size++] = c;
      }
    }
    return Arrays.copyOf(result, size);
  }
}

package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.List;

/** Lists all solutions of a covering problem that have a given number of columns. */
final class CoverEnumeration {

  private final CoverMatrix matrix;
  private final int limit;
  private final List<List<Integer>> found = new ArrayList<>();
  private final List<Integer> path = new ArrayList<>();

  CoverEnumeration(CoverMatrix matrix, int limit) {
    this.matrix = matrix;
    this.limit = limit;
  }

  /** Lists the solutions of the least size; each is met once, since tried columns are forbidden. */
  List<List<Integer>> ofSize(int size) {
    visit(CoverState.all(matrix), size);
    return found;
  }

  private void visit(CoverState state, int left) {
    if (found.size() == limit) {
      return;
    }
    if (state.isDone()) {
      found.add(path.stream().sorted().toList());
      return;
    }
    if (left == 0) {
      return;
    }
    int row = -1;
    int fewest = Integer.MAX_VALUE;
    long[] rows = state.rows();
    for (int r = CoverBits.next(rows, 0); r >= 0; r = CoverBits.next(rows, r + 1)) {
      int count = CoverBits.countBoth(matrix.rowCols(r), state.cols());
      if (count < fewest) {
        row = r;
        fewest = count;
      }
    }
    for (int c : matrix.rowList()[row]) {
      if (CoverBits.has(state.cols(), c)) {
        CoverState child = state.copy();
        child.take(c);
        path.add(c);
        visit(child, left - 1);
        path.remove(path.size() - 1);
        state.forbid(c);
      }
    }
  }
}

package dev.lengthwise.logic.covering;

import java.util.ArrayList;
import java.util.List;

/** Lists all solutions of a covering problem that have a given number of columns. */
public final class EqualCovers {

  private final CoveringProblem matrix;
  private final int limit;
  private final List<List<Integer>> found = new ArrayList<>();
  private final List<Integer> path = new ArrayList<>();

  public EqualCovers(CoveringProblem matrix, int limit) {
    this.matrix = matrix;
    this.limit = limit;
  }

  /** Lists the solutions of the least size; each is met once, since tried columns are forbidden. */
  public List<List<Integer>> ofSize(int size) {
    visit(CyclicCore.all(matrix), size);
    return found;
  }

  private void visit(CyclicCore state, int left) {
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
    for (int r = BitSet64.next(rows, 0); r >= 0; r = BitSet64.next(rows, r + 1)) {
      int count = BitSet64.countBoth(matrix.rowCols(r), state.cols());
      if (count < fewest) {
        row = r;
        fewest = count;
      }
    }
    for (int c : matrix.rowList()[row]) {
      if (BitSet64.has(state.cols(), c)) {
        CyclicCore child = state.copy();
        child.take(c);
        path.add(c);
        visit(child, left - 1);
        path.remove(path.size() - 1);
        state.forbid(c);
      }
    }
  }
}

package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.PointWords;
import java.util.List;

/**
 * Points at which outputs are specified, 64 to a word.
 *
 * @param inputs the words of each input
 * @param on the words of each output
 * @param care the points of each output that matter; a rewriter may write here what it learns
 * @param free the column from which on no point is, up to the end of the words
 */
// Handed from one search to the next and never compared, so arrays do.
@SuppressWarnings("ArrayRecordComponent")
public record SpecifiedPoints(long[][] inputs, long[][] on, long[][] care, int free) {

  /** Returns all points of a table. */
  static SpecifiedPoints of(List<TruthTable> spec) {
    int inputs = spec.get(0).inputs();
    long[][] points = new long[inputs][inputs <= 6 ? 1 : 1 << (inputs - 6)];
    for (int i = 0; i < inputs; i++) {
      for (int w = 0; w < points[i].length; w++) {
        points[i][w] = PointWords.variable(i, w);
      }
    }
    return new SpecifiedPoints(
        points,
        spec.stream().map(TruthTable::onWords).toArray(long[][]::new),
        spec.stream().map(TruthTable::careWords).toArray(long[][]::new),
        Integer.MAX_VALUE);
  }

  int words() {
    return on[0].length;
  }
}

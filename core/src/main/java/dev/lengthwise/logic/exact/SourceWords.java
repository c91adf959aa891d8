package dev.lengthwise.logic.exact;

import dev.lengthwise.logic.words.PointWords;

/** The source values of a problem's rows, bit-sliced so that 64 rows are evaluated at once. */
public final class SourceWords {

  private final int rows;
  private final long[][] sources;
  private final int stride;

  public SourceWords(EncodingProblem problem) {
    this.rows = problem.rows();
    this.sources = new long[problem.sources()][(rows + 63) >> 6];
    for (int r = 0; r < rows; r++) {
      int point = problem.points()[r];
      for (int s = 0; s < sources.length; s++) {
        sources[s][r >> 6] |= (long) (point >> s & 1) << r;
      }
    }
    int step = (int) (rows * 0.618);
    while (step > 1 && gcd(step, rows) != 1) {
      step--;
    }
    this.stride = Math.max(1, step);
  }

  private static int gcd(int a, int b) {
    return b == 0 ? a : gcd(b, a % b);
  }

  /** Returns a step that visits all rows in a scattered order. */
  int stride() {
    return stride;
  }

  /** Returns the words of each output over all rows. */
  public long[][] evaluate(Wiring topology, long[][] tables) {
    int words = (rows + 63) >> 6;
    int[] outputs = topology.outputs();
    long[][] result = new long[outputs.length][words];
    long[] signals = new long[topology.sources() + tables.length];
    int widest = 1;
    for (int[] fanIns : topology.fanIns()) {
      widest = Math.max(widest, fanIns.length);
    }
    long[] scratch = new long[1 << (widest - 1)];
    for (int w = 0; w < words; w++) {
      for (int s = 0; s < sources.length; s++) {
        signals[s] = sources[s][w];
      }
      for (int i = 0; i < tables.length; i++) {
        signals[sources.length + i] =
            PointWords.evaluate(tables[i], topology.fanIns()[i], signals, scratch);
      }
      for (int o = 0; o < outputs.length; o++) {
        result[o][w] = signals[outputs[o]];
      }
    }
    return result;
  }
}

package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.covering.CoveringProblem;
import dev.lengthwise.logic.words.OutputWords;
import java.util.Arrays;
import java.util.List;

/** The chart of primes: which cube holds which 1 of which output. */
final class PrimeChart {

  private PrimeChart() {}

  /** Returns the problem "hold each needed point of each output", every cube costing 1. */
  static CoveringProblem of(OutputWords spec, List<Cube> cubes) {
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
    return CoveringProblem.of(firstRow[spec.points()], lists, cost);
  }
}

package dev.lengthwise.examples.suite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/** Tables of random values at random points, of which nobody knows anything. */
final class RandomTables {

  private RandomTables() {}

  static List<SuiteFunction> all() {
    return List.of(random(7, 4, 0.5), random(8, 3, 1.0), random(10, 2, 0.2));
  }

  /** Each point matters with a probability. */
  private static SuiteFunction random(int inputs, int outputs, double matters) {
    SplittableRandom random = new SplittableRandom(inputs);
    List<TruthTable> tables = new ArrayList<>();
    for (int output = 0; output < outputs; output++) {
      long[] on = new long[1 << inputs - 6];
      long[] care = new long[1 << inputs - 6];
      for (int point = 0; point < 1 << inputs; point++) {
        care[point >> 6] |= (random.nextDouble() < matters ? 1L : 0L) << point;
        on[point >> 6] |= (random.nextBoolean() ? 1L : 0L) << point;
      }
      tables.add(TruthTable.ofWords(inputs, on, care));
    }
    return SuiteFunction.of(
        "random_" + inputs + "_" + outputs, "seed " + inputs, TruthTables.of(tables));
  }
}

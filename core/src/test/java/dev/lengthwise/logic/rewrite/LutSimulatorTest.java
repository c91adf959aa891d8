package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class LutSimulatorTest {

  private static final int WORDS = 5;

  /** Says what a table is at each point of the words, point by point. */
  private static long[] expected(long[] table, int[] fanIns, long[][] signals) {
    long[] result = new long[WORDS];
    for (int point = 0; point < 64 * WORDS; point++) {
      int index = 0;
      for (int k = 0; k < fanIns.length; k++) {
        index |= (int) (signals[fanIns[k]][point >> 6] >>> point & 1) << k;
      }
      result[point >> 6] |= (table[index >> 6] >>> index & 1) << point;
    }
    return result;
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2, 3, 4, 5, 6, 7, 8})
  void evaluate_randomTables_asPointByPoint(int inputs) {
    Random random = new Random(inputs);
    LutSimulator simulator = new LutSimulator(WORDS);
    for (int round = 0; round < 200; round++) {
      long[][] signals = new long[12][];
      for (int s = 0; s < signals.length; s++) {
        signals[s] = random.longs(WORDS).toArray();
      }
      int[] fanIns = random.ints(0, 11).distinct().limit(inputs).toArray();
      long[] table = random.longs(Math.max(1, 1 << inputs >> 6)).toArray();
      // Sparse tables have the constant, equal and inverse cofactors.
      for (int sparse = 0; sparse < round % 7; sparse++) {
        IntStream.range(0, table.length).forEach(w -> table[w] &= random.nextLong());
      }
      if (round % 3 == 0 && inputs > 0 && inputs <= 6) {
        long half = table[0] & (1L << (1 << (inputs - 1))) - 1;
        table[0] = half | (round % 2 == 0 ? half : ~half) << (1 << (inputs - 1));
      }
      simulator.evaluate(table, fanIns, signals, signals[11]);
      assertThat(signals[11]).isEqualTo(expected(table, fanIns, signals));
    }
  }
}

package dev.lengthwise.logic.gates;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.words.PointWords;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class FactoringTest {

  private static long[] random(Random random, int inputs) {
    long[] table = new long[Math.max(1, 1 << inputs >> 6)];
    for (int w = 0; w < table.length; w++) {
      table[w] = random.nextLong() & (random.nextBoolean() ? random.nextLong() : -1L);
    }
    for (int i = inputs; i < 6; i++) {
      table[0] = Forms.cofactor(table[0], i, false);
    }
    return table;
  }

  private static long[] points(List<Integer> products, int words) {
    long[] result = new long[words];
    for (int product : products) {
      for (int w = 0; w < words; w++) {
        long all = -1L;
        for (int bit = 0; bit < 30; bit++) {
          if ((product >> bit & 1) != 0) {
            all &= PointWords.variable(bit / 2, w) ^ -(bit & 1L);
          }
        }
        result[w] |= all;
      }
    }
    return result;
  }

  private static long[] points(Forms.Form form, int inputs, int words) {
    AndGraph graph = new AndGraph(new int[inputs]);
    int[] leaves = new int[inputs];
    for (int i = 0; i < inputs; i++) {
      leaves[i] = 2 * (i + 1);
    }
    int literal = form.build(graph, leaves);
    long[][] values = new long[graph.nodes()][words];
    for (int i = 0; i < inputs; i++) {
      for (int w = 0; w < words; w++) {
        values[i + 1][w] = PointWords.variable(i, w);
      }
    }
    for (int gate = inputs + 1; gate < graph.nodes(); gate++) {
      for (int w = 0; w < words; w++) {
        values[gate][w] = at(values, graph.left(gate), w) & at(values, graph.right(gate), w);
      }
    }
    long[] result = new long[words];
    for (int w = 0; w < words; w++) {
      result[w] = at(values, literal, w);
    }
    return result;
  }

  private static long at(long[][] values, int literal, int word) {
    return values[literal >> 1][word] ^ -(literal & 1L);
  }

  @Test
  void of_randomTables_sumsAndStructuresAreTheFunction() {
    Random random = new Random(3);
    for (int run = 0; run < 60; run++) {
      int inputs = 1 + run % 10;
      long[] table = random(random, inputs);
      List<Integer> products = IrredundantSum.of(table, inputs);
      assertThat(points(products, table.length)).isEqualTo(table);
      for (int out = 0; out < products.size(); out++) {
        List<Integer> rest = new ArrayList<>(products);
        rest.remove(out);
        assertThat(points(rest, table.length)).isNotEqualTo(table);
      }
      Forms.Form form = FactoredForm.of(table, new int[inputs]);
      assertThat(points(form, inputs, table.length)).isEqualTo(table);
    }
  }

  /** By hand: (a + b)(c + d) + e is four gates, as a sum of its five products nine. */
  @Test
  void of_aProductOfSums_isFactored() {
    long a = PointWords.variable(0, 0);
    long b = PointWords.variable(1, 0);
    long c = PointWords.variable(2, 0);
    long d = PointWords.variable(3, 0);
    long e = PointWords.variable(4, 0);
    long[] table = {(a | b) & (c | d) | e};
    assertThat(IrredundantSum.of(table, 5)).hasSize(5);
    assertThat(FactoredForm.of(table, new int[5]).gates()).isEqualTo(4);
  }

  /** A point at which two signals differ is met again: the pairs that it tells are not searched. */
  @Test
  void isNone_equalSignals_areFoundAndDifferentOnesAreNot() {
    AndGraph graph = new AndGraph(new int[40]);
    int forwards = AndGraph.TRUE;
    int backwards = AndGraph.TRUE;
    for (int i = 0; i < 40; i++) {
      forwards = graph.and(forwards, 2 * (i + 1));
      backwards = graph.and(backwards, 2 * (40 - i));
    }
    int allButOne = AndGraph.TRUE;
    for (int i = 1; i < 40; i++) {
      allButOne = graph.and(allButOne, 2 * (40 - i));
    }
    DifferentPoint different = new DifferentPoint(graph);
    assertThat(different.isNone(forwards, backwards)).isTrue();
    assertThat(different.isNone(forwards, allButOne)).isFalse();
    assertThat(different.isNone(forwards ^ 1, allButOne ^ 1)).isFalse();
    assertThat(different.isNone(forwards ^ 1, backwards ^ 1)).isTrue();
    assertThat(different.isNone(forwards, AndGraph.FALSE)).isFalse();
  }
}

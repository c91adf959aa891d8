package dev.lengthwise.logic;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizer;
import dev.lengthwise.logic.twolevel.TwoLevelResult;
import dev.lengthwise.testing.Slow;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * How many functions have a minimum of t product terms, over whole classes of functions.
 *
 * <p>A minimiser that misses a single optimum fails here.
 */
@Slow
class TwoLevelDistributionTest {

  /**
   * Completely specified functions. The row for n=4 is from T. Sasao's tables of AND-OR
   * expressions, from memory (mean 4.13 there), and computed by enumeration; the others computed.
   */
  @ParameterizedTest
  @CsvSource({"2, 1 9 6", "3, 1 27 130 88 10", "4, 1 81 1804 13472 28904 17032 3704 512 26"})
  void minimize_everyCompleteFunction_distributionIsKnown(int inputs, String expected) {
    int points = 1 << inputs;
    int[] histogram = new int[points];
    long terms = 0;
    for (long on = 0; on < 1L << points; on++) {
      TruthTable table = TruthTable.ofWords(inputs, new long[] {on}, new long[] {-1L});
      int t = provedTerms(table);
      histogram[t]++;
      terms += t;
    }
    assertThat(text(histogram, 0)).isEqualTo(expected);
    if (inputs == 4) {
      assertThat((double) terms / (1L << points)).isWithin(5e-6).of(4.13356);
    }
  }

  /** Incompletely specified functions, each point 0, 1 or a don't-care; computed. */
  @ParameterizedTest
  @CsvSource({"2, 16 55 10", "3, 256 2657 3058 572 18"})
  void minimize_everyIncompleteFunction_distributionIsKnown(int inputs, String expected) {
    int points = 1 << inputs;
    int[] histogram = new int[points];
    for (long care = 0; care < 1L << points; care++) {
      for (long on = care; ; on = (on - 1) & care) {
        histogram[provedTerms(TruthTable.ofWords(inputs, new long[] {on}, new long[] {care}))]++;
        if (on == 0) {
          break;
        }
      }
    }
    assertThat(text(histogram, 0)).isEqualTo(expected);
  }

  /**
   * Interval functions, 1 where a &lt;= x &lt;= b, over all a &lt;= b. The histograms are computed;
   * the worst case of 2n-4 terms for n &gt;= 4 is from Schieber, Geist, Zaks, "Computing the
   * minimum DNF representation of Boolean functions defined by intervals", Discrete Applied
   * Mathematics 149 (2005) 154-173, from memory.
   */
  @ParameterizedTest
  @CsvSource({"3, 3, ", "4, 4, 31 43 39 23", "5, 6, 63 110 139 130 84 2", "6, 8, "})
  void minimize_everyInterval_worstCaseIsKnown(int inputs, int worst, String expected) {
    int points = 1 << inputs;
    int[] histogram = new int[points];
    for (int from = 0; from < points; from++) {
      for (int to = from; to < points; to++) {
        histogram[provedTerms(interval(inputs, from, to))]++;
      }
    }
    int most = points - 1;
    while (histogram[most] == 0) {
      most--;
    }
    assertThat(most).isEqualTo(worst);
    if (expected != null) {
      assertThat(text(histogram, 1)).isEqualTo(expected);
    }
  }

  /** The worst pairs; computed. */
  @Test
  void minimize_worstIntervals_areThese() {
    assertThat(provedTerms(interval(5, 5, 26))).isEqualTo(6);
    assertThat(provedTerms(interval(6, 9, 54))).isEqualTo(8);
  }

  private static TruthTable interval(int inputs, int from, int to) {
    return TruthTable.of(inputs, p -> from <= p && p <= to);
  }

  private static int provedTerms(TruthTable table) {
    List<TruthTable> tables = List.of(table);
    TwoLevelResult result = TwoLevelMinimizer.exact().minimize(tables);
    if (!result.proved() || result.cover().firstMismatch(tables).isPresent()) {
      throw new AssertionError("not proved or not a cover: " + table + "\n" + result.cover());
    }
    return result.terms();
  }

  private static String text(int[] histogram, int from) {
    int to = histogram.length;
    while (histogram[to - 1] == 0) {
      to--;
    }
    return String.join(
        " ", Arrays.stream(histogram, from, to).mapToObj(Integer::toString).toList());
  }
}

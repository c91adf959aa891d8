package dev.lengthwise.logic.exact;

import static com.google.common.truth.Truth.assertThat;

import java.util.BitSet;
import org.junit.jupiter.api.Test;

class ColumnChartTest {

  /** Sources 0 and 1 are the bound set; the class of each point is given, -1 where none matters. */
  private static ColumnChart chart(int... classes) {
    EncodingProblem.Rows rows = new EncodingProblem.Rows(3, 1);
    for (int point = 0; point < classes.length; point++) {
      if (classes[point] >= 0) {
        rows.add(point, classes[point]);
      }
    }
    BitSet both = EncodingProblem.allCodes(1);
    return new ColumnChart(
        rows.problem(new int[] {0, 1}, new BitSet[] {both, both}), new int[] {0, 1});
  }

  @Test
  void count_allMatters_differentColumns() {
    // Columns of values 0 to 3: (0, 0), (0, 1), (0, 0), (1, 1).
    ColumnChart chart = chart(0, 0, 0, 1, 0, 1, 0, 1);
    assertThat(chart.count()).isEqualTo(3);
    assertThat(chart.representatives()[2]).isEqualTo(chart.representatives()[0]);
  }

  @Test
  void count_dontCares_fewerColumns() {
    // (0, -), (0, 1), (-, 1), (1, -): the last shares a column with the third.
    ColumnChart chart = chart(0, 0, -1, 1, -1, 1, 1, -1);
    assertThat(chart.count()).isEqualTo(2);
  }

  @Test
  void reduced_sharedColumn_keepsWhatEachValueAsks() {
    // (0, -) and (-, 1) share a column, which asks both.
    ColumnChart chart = chart(0, -1, -1, -1, -1, 1, -1, -1);
    assertThat(chart.count()).isEqualTo(1);
    assertThat(chart.reduced().rows()).isEqualTo(2);
    assertThat(chart.spread(new long[] {0b0010})).isEqualTo(new long[] {0});
    assertThat(chart.spread(new long[] {0b0001})).isEqualTo(new long[] {0b1111});
  }

  @Test
  void count_noRows_oneColumn() {
    assertThat(chart().count()).isEqualTo(1);
  }
}

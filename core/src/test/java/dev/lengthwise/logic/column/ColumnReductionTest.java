package dev.lengthwise.logic.column;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.IntUnaryOperator;
import org.junit.jupiter.api.Test;

class ColumnReductionTest {

  private static int[] kinds(int inputs, IntUnaryOperator kind) {
    int[] kinds = new int[1 << inputs];
    Arrays.setAll(kinds, kind);
    return kinds;
  }

  /** Evaluates steps and what is left at each point. */
  private static void assertSame(int[] kinds, ColumnReduction reduction) {
    int inputs = Integer.numberOfTrailingZeros(kinds.length);
    for (int point = 0; point < kinds.length; point++) {
      long values = point;
      int next = inputs;
      for (ColumnReduction.Step step : reduction.steps()) {
        int column = gather(values, step.signals());
        for (var bit : step.code()) {
          values |= (bit.isOn(column) ? 1L : 0L) << next++;
        }
      }
      if (kinds[point] != ColumnReduction.ANYTHING) {
        assertWithMessage("point %s", point)
            .that(reduction.kind(gather(values, reduction.signals())))
            .isEqualTo(kinds[point]);
      }
    }
  }

  private static int gather(long values, List<Integer> signals) {
    int point = 0;
    for (int i = 0; i < signals.size(); i++) {
      point |= (int) (values >> signals.get(i) & 1) << i;
    }
    return point;
  }

  @Test
  void of_groupsThatMatterByTwoClasses_becomeOneSignalEach() {
    int[] kinds =
        kinds(12, p -> ((p & 0x3f) == 0x2a ? 1 : 0) + (Integer.bitCount(p >> 6) % 2 == 0 ? 2 : 0));
    ColumnReduction reduction = ColumnReduction.of(kinds, 6, 6);
    assertSame(kinds, reduction);
    assertThat(reduction.steps().get(0).signals()).containsExactly(0, 1, 2, 3, 4, 5).inOrder();
    assertThat(reduction.steps().get(0).code()).hasSize(1);
    assertThat(reduction.signals().size()).isAtMost(6);
  }

  @Test
  void of_inputsThatDoNotMatter_goWithoutAStep() {
    int[] kinds = kinds(16, p -> p >> 11 >= 0x1d ? 1 : 0);
    ColumnReduction reduction = ColumnReduction.of(kinds, 6, 6);
    assertThat(reduction.steps()).isEmpty();
    assertThat(reduction.signals()).containsExactly(11, 12, 13, 14, 15).inOrder();
  }

  @Test
  void of_randomKindsOfRandomGroups_isTheSameFunctionWhereItMatters() {
    Random random = new Random(4);
    for (int trial = 0; trial < 20; trial++) {
      int[] low = random.ints(64, 0, 3).toArray();
      int[] high = random.ints(64, 0, 3).toArray();
      int[] kinds =
          kinds(
              11,
              p ->
                  random.nextInt(8) == 0
                      ? ColumnReduction.ANYTHING
                      : 3 * low[p & 63] + high[p >> 5 & 63]);
      assertSame(kinds, ColumnReduction.of(kinds, 4 + trial % 3, 6));
    }
  }

  @Test
  void of_nothingAtAll_readsNothing() {
    ColumnReduction reduction = ColumnReduction.of(kinds(9, p -> ColumnReduction.ANYTHING), 6, 6);
    assertThat(reduction.signals()).isEmpty();
    assertThat(reduction.kind(0)).isEqualTo(ColumnReduction.ANYTHING);
  }

  @Test
  void of_numberOfPointsThatIsNoPower_isRefused() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> ColumnReduction.of(new int[6], 6, 6)))
        .hasMessageThat()
        .isEqualTo("column reduction: the points must be a power of two up to 65536, found 6");
  }
}

package dev.lengthwise.logic.support;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizerTest;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

class SymmetryReportTest {

  @Test
  void of_weightFunction_isOneGroup() {
    TruthTable table = TruthTable.of(5, p -> Integer.bitCount(p) >= 2);
    SymmetryReport report = SymmetryReport.of(List.of(table));
    assertThat(report.groups()).containsExactly(0x1f);
    assertThat(report.pairs()).hasSize(10);
    assertThat(report.completed()).containsExactly(table);
  }

  @Test
  void of_multiplexer_hasNoSymmetry() {
    TruthTable table = TruthTable.of(3, p -> ((p & 1) == 0 ? p >> 1 & 1 : p >> 2 & 1) != 0);
    SymmetryReport report = SymmetryReport.of(List.of(table));
    assertThat(report.pairs()).isEmpty();
    assertThat(report.groups()).isEmpty();
  }

  @Test
  void of_andWithInvertedInput_isSymmetricWhenInverted() {
    SymmetryReport report = SymmetryReport.of(List.of(TruthTable.parse("0100")));
    assertThat(report.pairs()).containsExactly(new SymmetryPair(0, 1, true));
    assertThat(report.pairs().get(0).toString()).isEqualTo("0~!1");
    assertThat(report.groups()).isEmpty();
    assertThat(SymmetryReport.of(List.of(TruthTable.parse("0001"))).pairs().get(0).toString())
        .isEqualTo("0~1");
  }

  /** Point 001 is 1, 100 is 0, 010 is free: 0~1 and 1~2 hold alone, but not together. */
  @Test
  void of_contradictingDontCares_groupsStayConsistent() {
    SymmetryReport report = SymmetryReport.of(List.of(TruthTable.parse("01-00001")));
    assertThat(report.pairs())
        .containsAtLeast(new SymmetryPair(0, 1, false), new SymmetryPair(1, 2, false));
    assertThat(report.groups()).containsExactly(0b011);
    assertThat(report.completed().get(0).toString()).isEqualTo("01100001");
  }

  @Property(tries = 150, seed = "1")
  void of_anyTables_completedIsSymmetricInAllGroupsAndKeepsTheCarePoints(
      @ForAll long seed,
      @ForAll @IntRange(min = 1, max = 6) int inputs,
      @ForAll @IntRange(min = 1, max = 3) int outputs,
      @ForAll @IntRange(min = 30, max = 95) int percentFree) {
    List<TruthTable> tables = TwoLevelMinimizerTest.random(seed, inputs, outputs, percentFree);
    SymmetryReport report = SymmetryReport.of(tables);
    for (int o = 0; o < outputs; o++) {
      TruthTable before = tables.get(o);
      TruthTable after = report.completed().get(o);
      for (int p = 0; p < 1 << inputs; p++) {
        if (before.isCare(p)) {
          assertThat(after.isCare(p)).isTrue();
          assertThat(after.isOn(p)).isEqualTo(before.isOn(p));
        }
        for (int group : report.groups()) {
          for (int first = 0; first < inputs; first++) {
            for (int second = 0; second < first; second++) {
              if ((group >>> first & 1) != 0 && (group >>> second & 1) != 0) {
                int q = swap(p, first, second);
                assertThat(after.isOn(q)).isEqualTo(after.isOn(p));
                assertThat(after.isCare(q)).isEqualTo(after.isCare(p));
                assertThat(report.pairs()).contains(new SymmetryPair(second, first, false));
              }
            }
          }
        }
      }
    }
  }

  private static int swap(int point, int a, int b) {
    boolean differ = (point >>> a & 1) != (point >>> b & 1);
    return differ ? point ^ 1 << a ^ 1 << b : point;
  }
}

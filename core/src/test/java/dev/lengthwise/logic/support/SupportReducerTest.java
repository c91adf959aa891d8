package dev.lengthwise.logic.support;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.LengthMaps;
import dev.lengthwise.logic.TwoLevelCase;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizerTest;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

class SupportReducerTest {

  /** Sufficient means: no two points that must differ look the same through the kept inputs. */
  private static boolean suffices(List<TruthTable> tables, int kept) {
    int points = 1 << tables.get(0).inputs();
    for (int p = 0; p < points; p++) {
      for (int q = 0; q < p; q++) {
        for (TruthTable table : tables) {
          if (((p ^ q) & kept) == 0
              && table.isCare(p)
              && table.isCare(q)
              && table.isOn(p) != table.isOn(q)) {
            return false;
          }
        }
      }
    }
    return true;
  }

  @Property(tries = 120, seed = "1")
  void analyze_anyTables_findsAllSmallestSets(
      @ForAll long seed,
      @ForAll @IntRange(min = 1, max = 6) int inputs,
      @ForAll @IntRange(min = 1, max = 3) int outputs,
      @ForAll @IntRange(min = 0, max = 100) int percentFree) {
    List<TruthTable> tables = TwoLevelMinimizerTest.random(seed, inputs, outputs, percentFree);
    List<Integer> smallest = new ArrayList<>();
    int fewest = inputs + 1;
    for (int kept = 0; kept < 1 << inputs; kept++) {
      if (Integer.bitCount(kept) <= fewest && suffices(tables, kept)) {
        if (Integer.bitCount(kept) < fewest) {
          smallest.clear();
          fewest = Integer.bitCount(kept);
        }
        smallest.add(kept);
      }
    }
    SupportReport report = SupportReducer.analyze(tables);
    assertThat(report.proved()).isTrue();
    assertThat(report.minimum()).isEqualTo(smallest);
    assertThat(report.size()).isEqualTo(fewest);
    assertThat(smallest).contains(SupportReducer.smallest(tables));
    for (SupportInput input : report.each()) {
      int others = ((1 << inputs) - 1) & ~(1 << input.input());
      assertThat(input.removable()).isEqualTo(suffices(tables, others));
    }
  }

  @Property(tries = 60, seed = "1")
  void analyze_givingUpOnePointOfEachConflict_freesTheInput(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 6) int inputs) {
    List<TruthTable> tables = TwoLevelMinimizerTest.random(seed, inputs, 2, 40);
    for (SupportInput input : SupportReducer.analyze(tables).each()) {
      List<Integer> given = input.conflicts().stream().map(SupportConflict::low).toList();
      List<TruthTable> relaxed =
          tables.stream()
              .map(t -> TruthTable.of(inputs, t::isOn, p -> t.isCare(p) && !given.contains(p)))
              .toList();
      assertThat(SupportReducer.analyze(relaxed).each().get(input.input()).removable()).isTrue();
      for (int kept : given) {
        List<TruthTable> tooLittle =
            tables.stream()
                .map(
                    t ->
                        TruthTable.of(
                            inputs, t::isOn, p -> t.isCare(p) && (p == kept || !given.contains(p))))
                .toList();
        assertThat(SupportReducer.analyze(tooLittle).each().get(input.input()).removable())
            .isFalse();
      }
    }
  }

  /** The length map of the 8080, undocumented codes free. */
  @Test
  void analyze_i8080_namesTheRowsThatStandInTheWay() {
    int[] lengths = LengthMaps.i8080();
    List<TruthTable> tables =
        TwoLevelCase.tables(8, 2, op -> lengths[op] - 1, op -> lengths[op] != 0);
    SupportReport report = SupportReducer.analyze(tables);
    for (SupportInput input : report.each()) {
      for (SupportConflict conflict : input.conflicts()) {
        assertThat(conflict.low() ^ conflict.high()).isEqualTo(1 << input.input());
        assertThat(lengths[conflict.low()]).isNotEqualTo(lengths[conflict.high()]);
      }
    }
    // LXI against DAD for each register pair, and PUSH B against CALL.
    assertThat(report.each().get(3).toString())
        .isEqualTo(
            "input 3 is removable but for 0x1 and 0x9, 0x11 and 0x19, 0x21 and 0x29,"
                + " 0x31 and 0x39, 0xc5 and 0xcd");
  }

  @Test
  void toString_manyConflicts_areCountedNotListed() {
    TruthTable parity = TruthTable.of(5, p -> (Integer.bitCount(p) & 1) != 0);
    String text = SupportReducer.analyze(List.of(parity)).toString();
    assertThat(text)
        .startsWith(
            "input 0 is removable but for 0x0 and 0x1, 0x2 and 0x3, 0x4 and 0x5, 0x6 and 0x7,"
                + " 0x8 and 0x9, 0xa and 0xb, 0xc and 0xd, 0xe and 0xf, and 8 more pairs\n");
    assertThat(text).endsWith("\nsmallest sets of inputs: 0x1f");
    assertThat(SupportReducer.analyze(List.of(TruthTable.parse("0-"))).toString())
        .isEqualTo("input 0 is removable\nsmallest sets of inputs: 0x0");
  }

  @Test
  void restrict_keepsValuesAndDontCares() {
    List<TruthTable> tables = List.of(TruthTable.parse("01-10-0-"));
    assertThat(SupportReducer.restrict(tables, 0b101).get(0).toString()).isEqualTo("010-");
    assertThat(
            assertThrows(IllegalStateException.class, () -> SupportReducer.restrict(tables, 0b100)))
        .hasMessageThat()
        .isEqualTo(
            "support: the kept inputs must tell apart what differs, found 0x0 of inputs 0x4 both 0"
                + " and 1");
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> SupportReducer.restrict(tables, 8)))
        .hasMessageThat()
        .isEqualTo("support: the kept inputs must be of the 3 inputs, found 0x8");
  }
}

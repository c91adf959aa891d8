package dev.lengthwise.logic.bank;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.LengthMaps;
import dev.lengthwise.logic.TwoLevelCase;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.support.SupportReducer;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizerTest;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

class BankSplitterTest {

  private static void assertAgrees(BankPlan plan, List<TruthTable> tables) {
    int inputs = tables.get(0).inputs();
    int free = ((1 << inputs) - 1) & ~plan.select();
    for (int p = 0; p < 1 << inputs; p++) {
      Bank bank = plan.banks().get(SupportReducer.gather(p, plan.select()));
      assertThat(bank.code()).isEqualTo(SupportReducer.gather(p, plan.select()));
      assertThat(bank.inputs() & ~free).isEqualTo(0);
      long whole = plan.evaluate(p);
      long terms = bank.cover().cover().evaluate(SupportReducer.gather(p, bank.inputs()));
      for (int o = 0; o < tables.size(); o++) {
        if (tables.get(o).isCare(p)) {
          boolean expected = tables.get(o).isOn(p);
          assertThat((whole >>> o & 1) != 0).isEqualTo(expected);
          assertThat((terms >>> o & 1) != 0).isEqualTo(expected);
          assertThat(bank.functions().get(o).evaluate(p)).isEqualTo(expected);
          assertThat(multiplexed(plan, o, p)).isEqualTo(expected);
        }
      }
    }
  }

  /** Wires the multiplexer's table by hand, as a mapper does. */
  private static boolean multiplexed(BankPlan plan, int output, int point) {
    BankOutput parts = plan.outputs().get(output);
    int selectBits = Integer.bitCount(plan.select());
    int pins = SupportReducer.gather(point, parts.foldedInputs());
    int at = Integer.bitCount(parts.foldedInputs());
    for (BankGroup group : parts.groups()) {
      pins |= (group.function().evaluate(point) ? 1 : 0) << at++;
    }
    pins |= SupportReducer.gather(point, plan.select()) << at;
    return parts.multiplexer(selectBits).isOn(pins);
  }

  @Property(tries = 100, seed = "1")
  void split_anyTables_planAgreesOnTheCareSet(
      @ForAll long seed,
      @ForAll @IntRange(min = 1, max = 7) int inputs,
      @ForAll @IntRange(min = 1, max = 3) int outputs,
      @ForAll @IntRange(min = 0, max = 90) int percentFree,
      @ForAll @IntRange(min = 2, max = 6) int lutInputs,
      @ForAll int choice) {
    List<TruthTable> tables = TwoLevelMinimizerTest.random(seed, inputs, outputs, percentFree);
    int select = choice & ((1 << inputs) - 1);
    while (Integer.bitCount(select) > BankSplitter.MOST_SELECT_BITS) {
      select &= select - 1;
    }
    BankPlan plan = BankSplitter.forLuts(lutInputs).split(tables, Math.max(1, select));
    assertAgrees(plan, tables);
    for (BankOutput output : plan.outputs()) {
      for (BankGroup group : output.groups()) {
        if (group.codes().size() > 1) {
          assertThat(Integer.bitCount(group.function().support())).isAtMost(lutInputs);
        }
      }
    }
  }

  /** A bank for each of four kinds of function; two of them share a LUT. */
  @Test
  void split_mixedBanks_foldsAndGroups() {
    TruthTable table =
        TruthTable.of(
            6,
            p -> {
              int x = p & 15;
              return switch (p >> 4) {
                case 0 -> true;
                case 1 -> (x & 4) == 0;
                case 2 -> (x & 1) != 0 && (x & 2) != 0;
                default -> (x & 1) != 0 || (x & 2) != 0;
              };
            });
    BankPlan plan = BankSplitter.forLuts(4).split(List.of(table), 0b110000);
    BankOutput output = plan.outputs().get(0);
    assertThat(output.sources())
        .containsExactly(
            new BankSource(BankSource.Kind.ONE, 0),
            new BankSource(BankSource.Kind.INVERTED_INPUT, 2),
            new BankSource(BankSource.Kind.GROUP, 0),
            new BankSource(BankSource.Kind.GROUP, 0))
        .inOrder();
    assertThat(output.groups()).hasSize(1);
    assertThat(output.groups().get(0).codes()).containsExactly(2, 3).inOrder();
    assertThat(output.groups().get(0).function().support()).isEqualTo(0b010011);
    assertThat(plan.estimatedLuts()).isEqualTo(2);
    assertThat(plan.terms()).isEqualTo(5);
    assertAgrees(plan, List.of(table));
  }

  @Test
  void split_tableOfOneLut_needsNoMultiplexer() {
    TruthTable table = TruthTable.of(6, p -> (p & 7) == 5 || (p & 24) == 16);
    BankPlan plan = BankSplitter.forLuts(5).split(List.of(table), 0b000011);
    assertThat(plan.estimatedLuts()).isEqualTo(1);
    assertThat(plan.outputs().get(0).groups()).hasSize(1);
    assertAgrees(plan, List.of(table));
  }

  @Test
  void best_lengthMaps_agreeAndBeatAWholeRom() {
    for (int[] lengths :
        List.of(
            LengthMaps.i8051(),
            LengthMaps.i8080(),
            LengthMaps.z80(),
            LengthMaps.m6502(1),
            LengthMaps.m65816())) {
      List<TruthTable> tables =
          TwoLevelCase.tables(8, 2, op -> lengths[op] - 1, op -> lengths[op] != 0);
      BankPlan plan = BankSplitter.forLuts(6).best(tables, 4);
      assertAgrees(plan, tables);
      // A ROM of 256 words takes 5 LUTs of 6 inputs a bit.
      assertThat(plan.estimatedLuts()).isLessThan(10);
    }
  }

  @Test
  void best_isNoWorseThanAnyGivenSplit() {
    int[] lengths = LengthMaps.huc6280();
    List<TruthTable> tables =
        TwoLevelCase.tables(8, 3, op -> lengths[op] - 1, op -> lengths[op] != 0);
    BankSplitter splitter = BankSplitter.forLuts(6);
    int best = splitter.best(tables, 3).estimatedLuts();
    for (int select : new int[] {0x03, 0x0c, 0x30, 0xc0, 0x07, 0xe0}) {
      assertThat(splitter.split(tables, select).estimatedLuts()).isAtLeast(best);
    }
    assertThat(splitter.best(tables, 3)).isEqualTo(splitter.best(tables, 3));
  }

  @Test
  void split_sixtyFourBanks_agreesThoughTheMultiplexerIsTooWideForATable() {
    List<TruthTable> tables = TwoLevelMinimizerTest.random(5, 10, 1, 0);
    BankPlan plan = BankSplitter.forLuts(4).split(tables, 0x3f);
    for (int p = 0; p < 1 << 10; p++) {
      assertThat(plan.evaluate(p) != 0).isEqualTo(tables.get(0).isOn(p));
    }
    BankOutput output = plan.outputs().get(0);
    int pins = output.groups().size() + Integer.bitCount(output.foldedInputs()) + 6;
    assertThat(assertThrows(IllegalStateException.class, () -> output.multiplexer(6)))
        .hasMessageThat()
        .isEqualTo(
            "bank output: the multiplexer's table must have at most 24 inputs, found " + pins);
  }

  @Test
  void split_badArguments_saySo() {
    BankSplitter splitter = BankSplitter.forLuts(6);
    List<TruthTable> tables = List.of(TruthTable.parse("0110"));
    assertThat(assertThrows(IllegalArgumentException.class, () -> BankSplitter.forLuts(9)))
        .hasMessageThat()
        .isEqualTo("bank splitter: the inputs of a lut must be in [2, 8], found 9");
    assertThat(assertThrows(IllegalArgumentException.class, () -> splitter.split(tables, 4)))
        .hasMessageThat()
        .isEqualTo("bank splitter: the selecting inputs must be 1 to 6 of the 2 inputs, found 0x4");
    assertThat(assertThrows(IllegalArgumentException.class, () -> splitter.split(tables, 0)))
        .hasMessageThat()
        .isEqualTo("bank splitter: the selecting inputs must be 1 to 6 of the 2 inputs, found 0x0");
    assertThat(assertThrows(IllegalArgumentException.class, () -> splitter.best(tables, 7)))
        .hasMessageThat()
        .isEqualTo(
            "bank splitter: at least 1 input and 1 to 6 selecting inputs are needed, found 2 and"
                + " 7");
    List<TruthTable> wide = List.of(TruthTable.of(13, p -> true));
    assertThat(assertThrows(IllegalArgumentException.class, () -> splitter.best(wide, 2)))
        .hasMessageThat()
        .isEqualTo("bank splitter: the number of inputs must be in [0, 12], found 13");
  }

  @Test
  void bankFunction_tableOfOtherSize_isRefused() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new BankFunction(0b11, TruthTable.parse("01"))))
        .hasMessageThat()
        .isEqualTo("bank function: the table must have 2 inputs, found 1");
  }
}

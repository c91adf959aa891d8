package dev.lengthwise.logic.map;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.ReferenceLane;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.function.IntPredicate;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@Slow
class LutMapperTest {

  /**
   * A function with what we must reach.
   *
   * @param six LUTs of 6 inputs: the proved minimum unless said otherwise
   * @param four LUTs of 4 inputs, likewise
   */
  record Case(String name, TruthTables function, int six, int four) {
    @Override
    public String toString() {
      return name;
    }
  }

  private static int ones(int point) {
    return Integer.bitCount(point);
  }

  private static Case one(String name, int inputs, IntPredicate on, int six, int four) {
    return new Case(name, TruthTables.of(List.of(TruthTable.of(inputs, on))), six, four);
  }

  private static Case weight(String name, int inputs, int bits, int six, int four) {
    List<TruthTable> outputs = new ArrayList<>();
    for (int bit = 0; bit < bits; bit++) {
      int shift = bit;
      outputs.add(TruthTable.of(inputs, p -> (ones(p) >> shift & 1) != 0));
    }
    return new Case(name, TruthTables.of(outputs), six, four);
  }

  /**
   * Single outputs: minima by exhaustive SAT search over every wiring, or by the bound
   * ceil((n-1)/(K-1)) met; several outputs: known constructions. Recomputed by us. The four-input
   * figures of maj7, maj9, 9sym, w1of8, w2of8, onehot8, mod3 and of several outputs are what we
   * reach, no minimum is known to us.
   */
  static Stream<Case> cases() {
    return Stream.of(
        one("parity8", 8, p -> ones(p) % 2 != 0, 2, 3),
        one("equal2", 4, p -> (p & 3) == p >> 2, 1, 1),
        one("equal3", 6, p -> (p & 7) == p >> 3, 1, 2),
        one("equal4", 8, p -> (p & 15) == p >> 4, 2, 3),
        one("greater3", 6, p -> (p & 7) > p >> 3, 1, 2),
        one("greater4", 8, p -> (p & 15) > p >> 4, 2, 3),
        one("mux4", 6, p -> (p >> (p >> 4) & 1) != 0, 1, 2),
        one("mux8", 11, p -> (p >> (p >> 8) & 1) != 0, 3, 5),
        one("majority5", 5, p -> ones(p) >= 3, 1, 3),
        one("majority7", 7, p -> ones(p) >= 4, 3, 5),
        one("majority9", 9, p -> ones(p) >= 5, 4, 9),
        one("weight 1 of 5", 5, p -> (ones(p) & 2) != 0, 1, 3),
        one("weight 1 of 6", 6, p -> (ones(p) & 2) != 0, 1, 3),
        one("weight 1 of 7", 7, p -> (ones(p) & 2) != 0, 3, 4),
        one("weight 1 of 8", 8, p -> (ones(p) & 2) != 0, 3, 5),
        one("weight 2 of 5", 5, p -> (ones(p) & 4) != 0, 1, 3),
        one("weight 2 of 6", 6, p -> (ones(p) & 4) != 0, 1, 3),
        one("weight 2 of 7", 7, p -> (ones(p) & 4) != 0, 3, 5),
        one("weight 2 of 8", 8, p -> (ones(p) & 4) != 0, 3, 7),
        one("and8", 8, p -> p == 255, 2, 3),
        one("one hot of 8", 8, p -> ones(p) == 1, 3, 5),
        one("at most one of 8", 8, p -> ones(p) <= 1, 3, 5),
        one("two of 8", 8, p -> ones(p) == 2, 3, 5),
        one("weight mod 3 of 8", 8, p -> ones(p) % 3 == 0, 3, 5),
        one("9sym", 9, p -> ones(p) >= 3 && ones(p) <= 6, 4, 9),
        weight("rd53", 5, 3, 3, 5),
        weight("6:3 counter", 6, 3, 3, 5),
        weight("rd73", 7, 3, 5, 7),
        weight("rd84", 8, 4, 6, 10));
  }

  @ParameterizedTest
  @MethodSource("cases")
  void map_thoroughIfQuickDoesNot_reachesTheFigure(Case each) {
    for (int lutInputs : new int[] {6, 4}) {
      int most = lutInputs == 6 ? each.six() : each.four();
      LutMapper mapper = LutMapper.forInputs(lutInputs);
      LutNetwork network = mapper.withEffort(Effort.QUICK).map(each.function());
      if (network.luts().size() > most) {
        network = mapper.withEffort(Effort.THOROUGH).map(each.function());
      }
      assertThat(Equivalence.check(network, each.function()).proved()).isTrue();
      assertThat(network.mostFanIns()).isAtMost(lutInputs);
      System.out.printf("%s K=%d: %s%n", each, lutInputs, network);
      assertWithMessage("%s, K = %s", each, lutInputs).that(network.luts().size()).isAtMost(most);
    }
  }

  @Test
  void map_rom256x1_takesAtMostFiveLutsAndTwoLevels() {
    // Common practice, no source: four 64-bit LUTs and the multiplexer after them.
    TruthTables rom = TruthTables.of(List.of(TruthTable.of(8, p -> ones(p * 0x9e3779b9) % 3 == 1)));
    LutNetwork network = LutMapper.forInputs(6).withObjective(Objective.DEPTH).map(rom);
    assertThat(network.luts().size()).isAtMost(5);
    assertThat(network.levels()).isEqualTo(2);
  }

  @Test
  void map_twice_givesEqualNetworksAndRisingProgress() {
    TruthTables function = ReferenceLane.map(1);
    List<Double> shares = new ArrayList<>();
    LutNetwork first = LutMapper.forInputs(6).withSeed(7).withProgress(shares::add).map(function);
    assertThat(LutMapper.forInputs(6).withSeed(7).map(function)).isEqualTo(first);
    assertThat(shares).isInStrictOrder();
    assertThat(shares.get(shares.size() - 1)).isEqualTo(1.0);
  }

  @Test
  void map_constantsAndBuffers_takeNoLut() {
    TruthTables function =
        TruthTables.of(
            List.of(
                TruthTable.of(8, p -> true, p -> p > 9),
                TruthTable.of(8, p -> (p & 4) != 0),
                TruthTable.of(8, p -> false)));
    LutNetwork network = LutMapper.forInputs(4).map(function);
    assertThat(network.toString()).isEqualTo("8 inputs, 0 LUTs, 0 levels, 3 outputs");
  }

  @Test
  void forInputs_pastBounds_saysRange() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> LutMapper.forInputs(9)))
        .hasMessageThat()
        .isEqualTo("lut mapper: the inputs of a lut must be in [3, 8], found 9");
  }
}

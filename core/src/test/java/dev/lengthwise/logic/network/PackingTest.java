package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class PackingTest {

  @Test
  void of_twoFiveInputFunctionsOfSharedInputs_takeOneSite() {
    // Dual-output rule of a published logic-block guide, UG474 v1.9.
    LutNetworkBuilder builder = LutNetwork.builder(List.of("a", "b", "c", "d", "e", "f"));
    builder.output("all", builder.lut(TruthTable.of(5, p -> p == 31), 0, 1, 2, 3, 4));
    builder.output(
        "odd", builder.lut(TruthTable.of(5, p -> Integer.bitCount(p) % 2 != 0), 0, 1, 2, 3, 4));
    assertThat(Packing.of(builder.build(), 5).sites())
        .containsExactly(new Packing.Site(List.of(0, 1)));
    builder.output("other", builder.lut(TruthTable.of(5, p -> p == 31), 1, 2, 3, 4, 5));
    assertThat(Packing.of(builder.build(), 5).sites()).hasSize(2);
    assertThat(Packing.of(builder.build(), 0).sites()).hasSize(3);
  }

  @Test
  void of_greedyTrap_takesTheMaximumMatching() {
    // A path of four LUTs, 0-1-2-3: matching the middle pair first would strand the ends.
    LutNetworkBuilder builder = LutNetwork.builder(List.of("a", "b", "c", "d", "e", "f", "g", "h"));
    TruthTable and = TruthTable.of(3, p -> p == 7);
    for (int i = 0; i < 4; i++) {
      builder.output("y" + i, builder.lut(and, i, i + 1, i + 2));
    }
    assertThat(Packing.of(builder.build(), 4).sites()).hasSize(2);
  }

  @Test
  void of_decoderFourToSixteen_takesEightSites() {
    TruthTable[] rows = new TruthTable[16];
    LutNetworkBuilder builder = LutNetwork.builder(List.of("a", "b", "c", "d"));
    for (int i = 0; i < 16; i++) {
      int row = i;
      rows[i] = TruthTable.of(4, p -> p == row);
      builder.output("y" + i, builder.lut(rows[i], 0, 1, 2, 3));
    }
    assertThat(Packing.of(builder.build(), 5).sites()).hasSize(8);
  }

  /** The rule, once more and slowly: a site is one LUT, or two that read few signals together. */
  @Test
  void of_randomGates_pairsWhatTheRuleAllowsAndLeavesNoPair() {
    Random random = new Random(7);
    LutNetworkBuilder builder =
        LutNetwork.builder(IntStream.range(0, 24).mapToObj(i -> "x" + i).toList());
    for (int i = 0; i < 200; i++) {
      int inputs = 2 + random.nextInt(5);
      int[] fanIns = random.ints(0, 24).distinct().limit(inputs).toArray();
      builder.output("y" + i, builder.lut(TruthTable.of(inputs, p -> p == 0), fanIns));
    }
    LutNetwork network = builder.build();
    List<Integer> single = new ArrayList<>();
    int served = 0;
    for (Packing.Site site : Packing.of(network, 5).sites()) {
      served += site.luts().size();
      if (site.luts().size() == 1) {
        single.addAll(site.luts());
      } else {
        assertThat(together(network, site.luts())).isAtMost(5);
      }
    }
    assertThat(served).isEqualTo(network.luts().size());
    for (int a : single) {
      for (int b : single) {
        assertThat(a == b || together(network, List.of(a, b)) > 5).isTrue();
      }
    }
  }

  private static long together(LutNetwork network, List<Integer> luts) {
    return luts.stream().flatMap(i -> network.luts().get(i).fanIns().stream()).distinct().count();
  }
}

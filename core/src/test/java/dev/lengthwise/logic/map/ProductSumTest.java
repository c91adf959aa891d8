package dev.lengthwise.logic.map;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.testing.Slow;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

@Slow
class ProductSumTest {

  private static TruthTables random(int inputs, long seed) {
    Random random = new Random(seed);
    int words = Math.max(1, 1 << inputs >> 6);
    long[] care = random.longs(words).map(word -> word | random.nextLong()).toArray();
    long[] first = random.longs(words).toArray();
    long[] second = random.longs(words).toArray();
    for (int w = 0; w < words; w++) {
      first[w] &= care[w];
      second[w] &= care[w];
    }
    return TruthTables.of(
        List.of(TruthTable.ofWords(inputs, first, care), TruthTable.ofWords(inputs, second, care)));
  }

  @Test
  void build_randomTables_agreeWhereItMatters() {
    for (int lutInputs = 3; lutInputs <= 6; lutInputs++) {
      for (int inputs = lutInputs + 1; ProductSum.fits(inputs, lutInputs); inputs++) {
        TruthTables tables = random(inputs, inputs);
        LutNetwork network = ProductSum.build(tables, lutInputs, new Random(1));
        assertWithMessage("%s inputs in LUTs of %s", inputs, lutInputs)
            .that(Equivalence.check(network, tables).proved())
            .isTrue();
        assertThat(network.mostFanIns()).isAtMost(lutInputs);
      }
    }
  }

  @Test
  void build_eightInputsInFours_fourLevels() {
    // At most 16 products, two to a LUT: leaves, products, and two levels of sums.
    for (int seed = 1; seed <= 5; seed++) {
      assertThat(ProductSum.build(random(8, seed), 4, new Random(1)).levels()).isAtMost(4);
    }
  }

  @Test
  void build_innerProduct_oneProductForEachPair() {
    // The inner product of two vectors has rank four: five levels of gates in three of LUTs.
    TruthTable inner = TruthTable.of(8, p -> (Integer.bitCount(p & p >> 4 & 15) & 1) != 0);
    LutNetwork network = ProductSum.build(TruthTables.of(List.of(inner)), 4, new Random(1));
    assertThat(network.levels()).isAtMost(3);
  }

  @Test
  void map_levelsFirst_flatterThanLutsFirst() {
    TruthTables tables = random(8, 3);
    LutMapper mapper = LutMapper.forInputs(4);
    int flat = mapper.withObjective(Objective.DEPTH).map(tables).levels();
    assertThat(flat).isAtMost(4);
    assertThat(mapper.map(tables).levels()).isGreaterThan(flat);
  }
}

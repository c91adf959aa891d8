package dev.lengthwise.logic;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** The yardstick: our LUTs beside the best of several Yosys scripts, in the same run. */
class MappingAgainstYosysTest {

  /** Nine inputs, three outputs, each point of each output a don't-care with probability 0.2. */
  static TruthTables random(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<TruthTable> outputs = new ArrayList<>();
    for (int o = 0; o < 3; o++) {
      long[] on = new long[8];
      long[] care = new long[8];
      for (int p = 0; p < 512; p++) {
        if (random.nextDouble() >= 0.2) {
          care[p >> 6] |= 1L << p;
        }
        if (random.nextBoolean()) {
          on[p >> 6] |= 1L << p;
        }
      }
      outputs.add(TruthTable.ofWords(9, on, care));
    }
    return TruthTables.of(outputs);
  }

  @Test
  void map_randomTables_takeFewerLutsThanEveryScript() {
    int ours = 0;
    int theirs = 0;
    for (int seed = 1; seed <= 20; seed++) {
      TruthTables function = random(seed);
      LutNetwork network = LutMapper.forInputs(6).map(function);
      assertThat(Equivalence.check(network, function).proved()).isTrue();
      YosysLuts.Figure best = YosysLuts.best(function, 6);
      System.out.printf(
          "random %2d K=6: ours %d LUTs %d levels, yosys %d LUTs %d levels (%s)%n",
          seed, network.luts().size(), network.levels(), best.luts(), best.levels(), best.script());
      assertWithMessage("seed %s", seed).that(network.luts().size()).isAtMost(best.luts());
      ours += network.luts().size();
      theirs += best.luts();
    }
    System.out.printf("random total K=6: ours %d, yosys %d%n", ours, theirs);
    assertThat(10 * ours).isAtMost(9 * theirs);
  }

  @Test
  void map_randomTablesInFourInputLuts_takeNoMoreThanEveryScript() {
    int ours = 0;
    int theirs = 0;
    for (int seed = 1; seed <= 2; seed++) {
      TruthTables function = random(seed);
      LutNetwork network = LutMapper.forInputs(4).map(function);
      assertThat(Equivalence.check(network, function).proved()).isTrue();
      YosysLuts.Figure best = YosysLuts.best(function, 4);
      System.out.printf(
          "random %2d K=4: ours %d LUTs %d levels, yosys %d LUTs %d levels (%s)%n",
          seed, network.luts().size(), network.levels(), best.luts(), best.levels(), best.script());
      ours += network.luts().size();
      theirs += best.luts();
    }
    assertThat(ours).isAtMost(theirs);
  }

  @Test
  void map_referenceMaps_takeUnderHalfOfYosys() {
    for (int map = 0; map < 2; map++) {
      TruthTables function = ReferenceLane.map(map);
      for (int lutInputs : new int[] {6, 4}) {
        LutNetwork network =
            LutMapper.forInputs(lutInputs).withEffort(Effort.THOROUGH).map(function);
        Proof proof = Equivalence.check(network, function);
        assertThat(proof.proved()).isTrue();
        YosysLuts.Figure best = YosysLuts.best(function, lutInputs);
        System.out.printf(
            "map %d K=%d: ours %s; yosys %d LUTs %d levels (%s)%n",
            map, lutInputs, network, best.luts(), best.levels(), best.script());
        assertThat(network.luts().size()).isLessThan(best.luts());
        if (lutInputs == 6) {
          assertThat(network.luts().size()).isAtMost(map == 0 ? 10 : 9);
        }
      }
    }
  }
}

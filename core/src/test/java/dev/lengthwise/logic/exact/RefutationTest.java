package dev.lengthwise.logic.exact;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.sat.Sat;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class RefutationTest {

  private static boolean refutes(Wiring wiring, TruthTable... outputs) {
    return Refutation.refutes(wiring, Relation.of(List.of(outputs)));
  }

  @Test
  void refutes_sourceThatMattersIsNotRead() {
    TruthTable and = TruthTable.of(3, p -> p == 7);
    Wiring two = new Wiring(3, new int[][] {{0, 1}}, new int[] {3});
    assertThat(refutes(two, and)).isTrue();
    assertThat(refutes(new Wiring(3, new int[][] {{0, 1, 2}}, new int[] {3}), and)).isFalse();
    // Where the third source does not matter, two do.
    assertThat(refutes(two, TruthTable.of(3, p -> p == 7, p -> p >= 4))).isFalse();
    assertThat(refutes(new Wiring(3, new int[0][], new int[] {2}), and)).isTrue();
  }

  /** A sum of three bits in two of them needs two bits of code: one LUT has but two colours. */
  @Test
  void refutes_threeClassesThroughOneLut() {
    TruthTable majority = TruthTable.of(5, p -> Integer.bitCount(p) >= 3);
    Wiring pair = new Wiring(5, new int[][] {{0, 1, 2}, {3, 4, 5}}, new int[] {6});
    assertThat(refutes(pair, majority)).isTrue();
    TruthTable parity = TruthTable.of(5, p -> (Integer.bitCount(p) & 1) != 0);
    assertThat(refutes(pair, parity)).isFalse();
  }

  /** Whatever is refuted, the solver finds no tables for either; and most of that is refuted. */
  @Test
  void refutes_randomWirings_neverWhatTheSolverFinds() {
    Random random = new Random(7);
    int refuted = 0;
    int impossible = 0;
    int found = 0;
    for (int round = 0; round < 600; round++) {
      int sources = 4 + random.nextInt(3);
      Wiring wiring = draw(sources, 1 + random.nextInt(4), 1 + random.nextInt(2), random);
      Relation relation = relation(sources, wiring.outputs().length, random);
      boolean no = Refutation.refutes(wiring, relation);
      Sat.Verdict verdict = RelationSynthesis.solve(wiring, relation, 100_000).verdict();
      if (no) {
        assertWithMessage("%s", Arrays.deepToString(wiring.fanIns()))
            .that(verdict)
            .isEqualTo(Sat.Verdict.UNSATISFIABLE);
      }
      refuted += no ? 1 : 0;
      impossible += verdict == Sat.Verdict.UNSATISFIABLE ? 1 : 0;
      found += verdict == Sat.Verdict.SATISFIABLE ? 1 : 0;
    }
    assertThat(found).isAtLeast(50);
    assertThat(impossible).isAtLeast(50);
    assertThat(refuted).isAtLeast(impossible / 2);
  }

  private static Wiring draw(int sources, int luts, int outputs, Random random) {
    int[][] fanIns = new int[luts][];
    for (int lut = 0; lut < luts; lut++) {
      List<Integer> signals =
          IntStream.range(0, sources + lut).boxed().collect(Collectors.toList());
      Collections.shuffle(signals, random);
      fanIns[lut] = signals.stream().limit(3).mapToInt(Integer::intValue).toArray();
    }
    return new Wiring(
        sources,
        fanIns,
        IntStream.range(0, outputs).map(o -> sources + luts - 1 - o % luts).toArray());
  }

  /** Parities of some sources but for one point, some points left open: often what few LUTs are. */
  private static Relation relation(int sources, int outputs, Random random) {
    List<TruthTable> tables =
        IntStream.range(0, outputs)
            .mapToObj(
                o -> {
                  int mask = random.nextInt(1 << sources);
                  long ones = random.nextLong();
                  long some = random.nextLong();
                  long cares = some | random.nextLong();
                  return TruthTable.of(
                      sources,
                      p -> (Integer.bitCount(p & mask) & 1) != 0 ^ (p == (ones & 63)),
                      p -> (cares >>> p & 1) != 0);
                })
            .toList();
    return Relation.of(tables);
  }
}

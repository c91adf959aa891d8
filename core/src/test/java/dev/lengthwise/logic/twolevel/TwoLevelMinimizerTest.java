package dev.lengthwise.logic.twolevel;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.TwoLevelCase;
import dev.lengthwise.logic.TwoLevelFormulaTest;
import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

public class TwoLevelMinimizerTest {

  public static List<TruthTable> random(long seed, int inputs, int outputs, int percentFree) {
    Random random = new Random(seed);
    List<TruthTable> tables = new ArrayList<>();
    for (int o = 0; o < outputs; o++) {
      tables.add(
          TruthTable.of(
              inputs, p -> random.nextBoolean(), p -> random.nextInt(100) >= percentFree));
    }
    return tables;
  }

  @Property(tries = 200, seed = "1")
  void minimize_anyTables_exactIsACoverNoHeuristicBeats(
      @ForAll long seed,
      @ForAll @IntRange(min = 0, max = 6) int inputs,
      @ForAll @IntRange(min = 1, max = 4) int outputs,
      @ForAll @IntRange(min = 0, max = 100) int percentFree) {
    List<TruthTable> tables = random(seed, inputs, outputs, percentFree);
    TwoLevelResult exact = TwoLevelMinimizer.exact().minimize(tables);
    TwoLevelResult heuristic = TwoLevelMinimizer.heuristic().seed(seed).minimize(tables);

    assertThat(exact.proved()).isTrue();
    assertAgrees(exact.cover(), tables);
    assertAgrees(heuristic.cover(), tables);
    assertThat(heuristic.terms()).isAtLeast(exact.terms());
    assertThat(heuristic.lowerBound()).isAtMost(exact.terms());
    int alone =
        tables.stream()
            .mapToInt(table -> TwoLevelMinimizer.exact().minimize(List.of(table)).terms())
            .sum();
    assertThat(exact.terms()).isAtMost(alone);
  }

  /** Asks the cover point by point, apart from the bulk comparison that the library offers. */
  private static void assertAgrees(Cover cover, List<TruthTable> tables) {
    for (int p = 0; p < 1 << tables.get(0).inputs(); p++) {
      long value = cover.evaluate(p);
      for (int o = 0; o < tables.size(); o++) {
        if (tables.get(o).isCare(p)) {
          assertThat((value >>> o & 1) != 0).isEqualTo(tables.get(o).isOn(p));
        }
      }
    }
    for (Cube cube : cover.cubes()) {
      for (int p = 0; p < 1 << cover.inputs(); p++) {
        for (int o = 0; o < cover.outputs() && cube.holds(p); o++) {
          if ((cube.outputs() >>> o & 1) != 0) {
            assertThat(tables.get(o).isCare(p) && !tables.get(o).isOn(p)).isFalse();
          }
        }
      }
    }
  }

  @Property(tries = 100, seed = "1")
  void minimize_oneOutput_fewestLiteralsIsTheLeastOfAllMinimumCovers(
      @ForAll long seed,
      @ForAll @IntRange(min = 1, max = 5) int inputs,
      @ForAll @IntRange(min = 0, max = 80) int percentFree) {
    TruthTable table = random(seed, inputs, 1, percentFree).get(0);
    TwoLevelResult result = TwoLevelMinimizer.exact().minimize(List.of(table));
    List<Cover> covers = MinimumCovers.of(table, 100_000);
    assertThat(covers.stream().mapToInt(Cover::terms).distinct().toArray())
        .isEqualTo(new int[] {result.terms()});
    assertThat(covers.stream().distinct().count()).isEqualTo(covers.size());
    if (result.fewestLiterals()) {
      assertThat(result.cover().literals())
          .isEqualTo(covers.stream().mapToInt(Cover::literals).min().getAsInt());
    }
  }

  @Test
  void minimize_wideTables_heuristicFindsThePlantedTerms() {
    for (int inputs : new int[] {12, 14, 16}) {
      Random random = new Random(inputs);
      List<Cube> planted = new ArrayList<>();
      for (int i = 0; i < 40; i++) {
        int fixed = ~thin(random) & ((1 << inputs) - 1);
        long outputs = thin(random) & 0xffff_ffffL;
        planted.add(new Cube(inputs, fixed, random.nextInt() & fixed, outputs | 1));
      }
      Cover cover = new Cover(inputs, 32, planted);
      List<TruthTable> tables =
          TwoLevelCase.tables(inputs, 32, cover::evaluate, p -> (p & 15) != 3);
      TwoLevelResult result = TwoLevelMinimizer.heuristic().minimize(tables);
      assertThat(result.cover().firstMismatch(tables).isEmpty()).isTrue();
      assertThat(result.terms()).isAtMost(40);
      assertThat(result.lowerBound()).isAtLeast(36);
    }
  }

  /** Returns a word with a quarter of its bits set. */
  private static int thin(Random random) {
    int word = random.nextInt();
    return word & random.nextInt();
  }

  @Test
  void minimize_wideRandomTable_isACoverAndPassesHelp() {
    List<TruthTable> tables = random(7, 14, 2, 50);
    TwoLevelResult first = TwoLevelMinimizer.heuristic().passes(0).minimize(tables);
    TwoLevelResult later = TwoLevelMinimizer.heuristic().minimize(tables);
    assertThat(first.cover().firstMismatch(tables).isEmpty()).isTrue();
    assertThat(later.cover().firstMismatch(tables).isEmpty()).isTrue();
    assertThat(later.terms()).isLessThan(first.terms());
  }

  @Test
  void minimize_sameSeed_sameCover() {
    List<TruthTable> tables = random(11, 10, 3, 30);
    TwoLevelMinimizer heuristic = TwoLevelMinimizer.heuristic();
    assertThat(heuristic.seed(5).minimize(tables)).isEqualTo(heuristic.seed(5).minimize(tables));
    List<TruthTable> small = random(12, 7, 3, 30);
    assertThat(TwoLevelMinimizer.exact().minimize(small))
        .isEqualTo(TwoLevelMinimizer.exact().minimize(small));
  }

  @Test
  void automatic_choosesTheExactWayForSmallTables() {
    List<TruthTable> small = random(3, TwoLevelMinimizer.AUTOMATIC_EXACT_INPUTS, 1, 70);
    assertThat(TwoLevelMinimizer.automatic().minimize(small))
        .isEqualTo(TwoLevelMinimizer.exact().minimize(small));
    List<TruthTable> wide = random(3, TwoLevelMinimizer.AUTOMATIC_EXACT_INPUTS + 1, 1, 70);
    assertThat(TwoLevelMinimizer.automatic().minimize(wide))
        .isEqualTo(TwoLevelMinimizer.heuristic().minimize(wide));
  }

  /** How near the heuristic comes on the benchmarks whose minimum is known. */
  @Test
  void heuristic_publishedFunctions_staysNearTheMinimum() {
    List<TwoLevelCase> cases = new ArrayList<>();
    TwoLevelFormulaTest.counting().forEach(cases::add);
    TwoLevelFormulaTest.arithmetic().forEach(cases::add);
    for (TwoLevelCase function : cases) {
      TwoLevelResult result = TwoLevelMinimizer.heuristic().minimize(function.tables());
      assertThat(result.cover().firstMismatch(function.tables()).isEmpty()).isTrue();
      assertThat(result.terms()).isAtLeast(function.shared());
      assertThat(result.terms()).isAtMost(function.shared() + function.shared() / 25);
    }
  }

  @Test
  void minimize_wrongTables_saySo() {
    TwoLevelMinimizer exact = TwoLevelMinimizer.exact();
    assertThat(assertThrows(IllegalArgumentException.class, () -> exact.minimize(List.of())))
        .hasMessageThat()
        .isEqualTo("tables: the number of outputs must be in [1, 64], found 0");
    List<TruthTable> mixed = List.of(TruthTable.parse("01"), TruthTable.parse("0110"));
    assertThat(assertThrows(IllegalArgumentException.class, () -> exact.minimize(mixed)))
        .hasMessageThat()
        .isEqualTo("tables: all must have the 1 inputs of the first, found 2 at output 1");
    List<TruthTable> wide = List.of(TruthTable.of(13, p -> true));
    assertThat(assertThrows(IllegalArgumentException.class, () -> exact.minimize(wide)))
        .hasMessageThat()
        .isEqualTo("two-level minimiser: the number of inputs must be in [0, 12], found 13");
    assertThat(assertThrows(IllegalArgumentException.class, () -> exact.passes(-1)))
        .hasMessageThat()
        .isEqualTo("two-level minimiser: the number of passes must be at least 0, found -1");
  }

  @Test
  void primes_tooManyInputs_saySo() {
    List<TruthTable> wide = List.of(TruthTable.of(14, p -> true));
    assertThat(assertThrows(IllegalArgumentException.class, () -> PrimeImplicants.of(wide)))
        .hasMessageThat()
        .isEqualTo("primes: the number of inputs must be in [0, 13], found 14");
  }

  @Test
  void result_boundAboveTerms_isRefused() {
    Cover cover = new Cover(1, 1, List.of());
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> new TwoLevelResult(cover, 1, false)))
        .hasMessageThat()
        .isEqualTo("two-level result: the bound must be in [0, 0], found 1");
  }
}

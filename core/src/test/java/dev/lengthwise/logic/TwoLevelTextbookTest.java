package dev.lengthwise.logic;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.twolevel.Cover;
import dev.lengthwise.logic.twolevel.Cube;
import dev.lengthwise.logic.twolevel.MinimumCovers;
import dev.lengthwise.logic.twolevel.PrimeImplicants;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizer;
import dev.lengthwise.logic.twolevel.TwoLevelResult;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Examples of the Quine-McCluskey method in textbooks.
 *
 * <p>The lists of points are from memory, and so are the printed answers of the rows whose source
 * ends in "+"; every number was computed by enumeration as well. The first variable of the book is
 * the highest input.
 */
class TwoLevelTextbookTest {

  record Example(
      String source,
      int inputs,
      String ones,
      String dontCares,
      int primes,
      int essential,
      int terms,
      int literals,
      int covers,
      String cover) {

    TruthTable table() {
      List<Integer> on = points(ones);
      List<Integer> free = points(dontCares);
      return TruthTable.of(inputs, on::contains, p -> !free.contains(p));
    }

    private static List<Integer> points(String list) {
      return list.isEmpty()
          ? List.of()
          : Arrays.stream(list.split(",", -1)).map(Integer::valueOf).toList();
    }

    @Override
    public String toString() {
      return source;
    }
  }

  static Stream<Example> examples() {
    return Stream.of(
        new Example(
            "Roth, Petrick's cyclic example +", 3, "0,1,2,5,6,7", "", 6, 0, 3, 6, 2, "-01 0-0 11-"),
        new Example(
            "Roth, sections 6.1 and 6.2 +",
            4,
            "0,1,2,5,6,7,8,9,10,14",
            "",
            6,
            2,
            3,
            7,
            1,
            "--10 -00- 01-1"),
        new Example(
            "Roth, section 6.4 +", 4, "2,3,7,9,11,13", "1,10,15", 4, 3, 3, 6, 1, "--11 -01- 1--1"),
        new Example(
            "Wikipedia, Quine-McCluskey algorithm +",
            4,
            "4,8,10,11,12,15",
            "9,14",
            4,
            2,
            3,
            7,
            2,
            "-100 1--0 1-1-"),
        new Example(
            "Mano, tabulation example +",
            4,
            "1,4,6,7,8,9,10,11,15",
            "",
            6,
            3,
            4,
            11,
            1,
            "-001 -111 01-0 10--"),
        new Example(
            "Mano, don't-care map example +",
            4,
            "1,3,7,11,15",
            "0,2,5",
            3,
            1,
            2,
            4,
            2,
            "--11 00--"),
        new Example(
            "Katz, section 2.4 +", 4, "4,5,6,8,9,10,13", "0,7,15", 7, 2, 3, 8, 1, "01-- 1-01 10-0"),
        new Example(
            "list recalled as Brown and Vranesic, chapter 4 (i)",
            4,
            "0,4,8,10,11,12,13,15",
            "",
            6,
            1,
            3,
            8,
            1,
            "--00 101- 11-1"),
        new Example(
            "list recalled as Brown and Vranesic, chapter 4 (ii)",
            4,
            "0,2,5,6,7,8,9,13",
            "1,12,15",
            7,
            0,
            3,
            7,
            1,
            "-00- -1-1 0-10"),
        new Example(
            "list recalled as Brown and Vranesic, chapter 4 (iii)",
            4,
            "0,3,10,15",
            "1,2,7,8,11,14",
            5,
            0,
            2,
            4,
            2,
            "00-- 1-1-"),
        new Example(
            "Roth, five-variable map +",
            5,
            "0,1,4,5,13,15,20,21,22,23,24,26,28,30,31",
            "",
            9,
            2,
            5,
            16,
            4,
            "00-0- 011-1 1-11- 101-- 11--0"),
        new Example(
            "McCluskey, Bell System Technical Journal, 1956",
            5,
            "0,2,4,6,7,8,10,11,12,13,14,16,18,19,29,30",
            "",
            8,
            7,
            7,
            25,
            1,
            "-00-0 -1101 -1110 0---0 0011- 0101- 1001-"),
        new Example(
            "Wakerly, four-bit primes with 1",
            4,
            "1,2,3,5,7,11,13",
            "",
            4,
            4,
            4,
            11,
            1,
            "-011 -101 0--1 001-"),
        new Example(
            "Wakerly, BCD primes with 1",
            4,
            "1,2,3,5,7",
            "10,11,12,13,14,15",
            6,
            2,
            2,
            4,
            1,
            "-01- 0--1"),
        new Example(
            "BCD at least 5",
            4,
            "5,6,7,8,9",
            "10,11,12,13,14,15",
            3,
            3,
            3,
            5,
            1,
            "-1-1 -11- 1---"));
  }

  @ParameterizedTest
  @MethodSource("examples")
  void minimize_textbookExample_everyFigureAgrees(Example example) {
    TruthTable table = example.table();
    List<TruthTable> tables = List.of(table);
    PrimeImplicants primes = PrimeImplicants.of(tables);
    TwoLevelResult result = TwoLevelMinimizer.exact().minimize(tables);
    List<Cover> covers = MinimumCovers.of(table, 100);

    assertThat(primes.cubes()).hasSize(example.primes());
    assertThat(primes.essential()).hasSize(example.essential());
    assertThat(result.cover().firstMismatch(tables).isEmpty()).isTrue();
    assertThat(result.proved()).isTrue();
    assertThat(result.terms()).isEqualTo(example.terms());
    assertThat(result.fewestLiterals()).isTrue();
    assertThat(result.cover().literals()).isEqualTo(example.literals());
    assertThat(covers).hasSize(example.covers());
    assertThat(covers.stream().mapToInt(Cover::literals).min().getAsInt())
        .isEqualTo(example.literals());
    assertThat(covers.stream().map(TwoLevelTextbookTest::terms).toList())
        .contains(new TreeSet<>(Arrays.asList(example.cover().split(" ", -1))));
    for (Cover cover : covers) {
      assertThat(cover.firstMismatch(tables).isEmpty()).isTrue();
    }
  }

  @ParameterizedTest
  @MethodSource("examples")
  void primes_textbookExample_equalThoseOfABruteForceList(Example example) {
    TruthTable table = example.table();
    assertThat(terms(PrimeImplicants.of(List.of(table)).cubes())).isEqualTo(bruteForce(table));
  }

  /** Tries every string of 0, 1 and - and keeps those that hold no 0 and can drop no literal. */
  private static Set<String> bruteForce(TruthTable table) {
    Set<String> implicants = new TreeSet<>();
    int count = IntStream.range(0, table.inputs()).reduce(1, (product, i) -> 3 * product);
    for (int number = 0; number < count; number++) {
      StringBuilder text = new StringBuilder();
      for (int rest = number, i = 0; i < table.inputs(); i++, rest /= 3) {
        text.append("01-".charAt(rest % 3));
      }
      Cube cube = Cube.parse(text.toString());
      if (IntStream.range(0, 1 << table.inputs())
          .noneMatch(p -> cube.holds(p) && table.isCare(p) && !table.isOn(p))) {
        implicants.add(text.toString());
      }
    }
    Set<String> primes = new TreeSet<>(implicants);
    primes.removeIf(
        term ->
            IntStream.range(0, term.length())
                .filter(i -> term.charAt(i) != '-')
                .anyMatch(
                    i -> implicants.contains(term.substring(0, i) + "-" + term.substring(i + 1))));
    return primes;
  }

  private static Set<String> terms(Cover cover) {
    return terms(cover.cubes());
  }

  private static Set<String> terms(List<Cube> cubes) {
    Set<String> terms = new TreeSet<>();
    cubes.forEach(cube -> terms.add(cube.text()));
    return terms;
  }
}

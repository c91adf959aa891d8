package dev.lengthwise.logic;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.twolevel.PrimeImplicants;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizer;
import dev.lengthwise.logic.twolevel.TwoLevelResult;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Exact minima of functions that are given by a formula.
 *
 * <p>Figures marked "from memory" are published ones (the MCNC two-level benchmarks and T. Sasao's
 * arithmetic functions) that were recalled and then agreed with an independent computation: all
 * primes, and the covering problem solved by a mixed integer program with proved optimality. The
 * others are from that computation alone.
 */
@Slow
public class TwoLevelFormulaTest {

  private static int weight(int point) {
    return Integer.bitCount(point);
  }

  private static int low(int point, int bits) {
    return point & ((1 << bits) - 1);
  }

  private static TwoLevelCase symmetric(
      String name, int inputs, int from, int to, int shared, String source) {
    return TwoLevelCase.of(
        name + " (" + source + ")",
        inputs,
        1,
        p -> weight(p) >= from && weight(p) <= to ? 1 : 0,
        shared,
        shared);
  }

  public static Stream<TwoLevelCase> counting() {
    List<TwoLevelCase> cases = new ArrayList<>();
    // rd_n needs 2^n - 1 terms: for a point m of weight k > 0 take output j, the lowest 1 of k. A
    // term that holds m for j holds no point of weight k - 1, so m is its lightest point.
    cases.add(TwoLevelCase.of("rd53 (from memory)", 5, 3, p -> weight(p), 31, 16, 10, 5));
    cases.add(TwoLevelCase.of("rd73 (from memory)", 7, 3, p -> weight(p), 127, 64, 42, 35));
    cases.add(TwoLevelCase.of("rd84 (from memory)", 8, 4, p -> weight(p), 255, 128, 84, 70, 1));
    cases.add(symmetric("9sym", 9, 3, 6, 84, "from memory"));
    cases.add(symmetric("S{3..6} of 10", 10, 3, 6, 210, "computed"));
    cases.add(symmetric("S{2,3,4} of 6", 6, 2, 4, 15, "computed"));
    for (int n = 2; n <= 8; n++) {
      cases.add(
          TwoLevelCase.of(
              "parity of " + n + " (from memory)", n, 1, p -> weight(p) & 1, 1 << (n - 1)));
    }
    int[] majority = {3, 10, 35, 126};
    for (int i = 0; i < majority.length; i++) {
      int n = 3 + 2 * i;
      cases.add(symmetric("majority of " + n, n, n / 2 + 1, n, majority[i], "from memory"));
    }
    cases.add(
        TwoLevelCase.of(
            "life: 8 neighbours and the cell itself (from memory)",
            9,
            1,
            p -> weight(low(p, 8)) == 3 || (weight(low(p, 8)) == 2 && p >> 8 != 0) ? 1 : 0,
            84));
    return cases.stream();
  }

  public static Stream<TwoLevelCase> arithmetic() {
    List<TwoLevelCase> cases = new ArrayList<>();
    int[] plain = {3, 11, 31, 75};
    Integer[][] plainEach = {{}, {}, {}, {2, 6, 16, 36, 15}};
    int[] carry = {7, 23, 59, 135};
    Integer[][] carryEach = {{}, {}, {4, 12, 28, 15}, {}};
    for (int i = 0; i < 4; i++) {
      int n = i + 1;
      assertThat(plain[i]).isEqualTo(6 * (1 << n) - 4 * n - 5);
      assertThat(carry[i]).isEqualTo(10 * (1 << n) - 4 * n - 9);
      cases.add(
          TwoLevelCase.of(
              "adder of " + n + " bits (from memory; n=4 is adr4)",
              2 * n,
              n + 1,
              p -> low(p, n) + (p >> n),
              plain[i],
              plainEach[i]));
      cases.add(
          TwoLevelCase.of(
              "adder of " + n + " bits with carry (n=3 is z4, from memory)",
              2 * n + 1,
              n + 1,
              p -> low(p, n) + low(p >> n, n) + (p >> (2 * n)),
              carry[i],
              carryEach[i]));
    }
    cases.add(TwoLevelCase.of("5x+1 (from memory)", 7, 10, p -> 5L * p + 1, 63));
    cases.add(TwoLevelCase.of("root (from memory)", 8, 5, p -> Math.round(Math.sqrt(p)), 57));
    cases.add(TwoLevelCase.of("root, floor (computed)", 8, 4, p -> (long) Math.sqrt(p), 38));
    cases.add(TwoLevelCase.of("sqr6 (from memory)", 6, 12, p -> (long) p * p, 47));
    cases.add(
        TwoLevelCase.of(
            "nrm4 (from memory)", 8, 5, p -> Math.round(Math.hypot(p & 15, p >> 4)), 120));
    cases.add(
        TwoLevelCase.of(
            "nrm4, floor (computed)",
            8,
            5,
            p -> (long) Math.sqrt((p & 15) * (p & 15) + (p >> 4) * (p >> 4)),
            104));
    cases.add(TwoLevelCase.of("mlp4 (from memory)", 8, 8, p -> (long) (p & 15) * (p >> 4), 121));
    cases.add(
        TwoLevelCase.of(
            "multiplier 3x3 (computed)",
            6,
            6,
            p -> (long) (p & 7) * (p >> 3),
            30,
            1,
            4,
            9,
            10,
            8,
            3));
    cases.add(
        TwoLevelCase.of("multiplier 2x2 (computed)", 4, 4, p -> (long) (p & 3) * (p >> 2), 7));
    cases.add(TwoLevelCase.of("increment of 8 bits (computed)", 8, 9, p -> p + 1L, 37));
    return cases.stream();
  }

  static Stream<TwoLevelCase> comparing() {
    List<TwoLevelCase> cases = new ArrayList<>();
    for (int n = 1; n <= 4; n++) {
      int bits = n;
      String size = " of " + n + " bits (computed)";
      cases.add(
          TwoLevelCase.of(
              "a>b" + size, 2 * n, 1, p -> low(p, bits) > p >> bits ? 1 : 0, (1 << n) - 1));
      cases.add(
          TwoLevelCase.of(
              "a>=b" + size,
              2 * n,
              1,
              p -> low(p, bits) >= p >> bits ? 1 : 0,
              3 * (1 << (n - 1)) - 1));
      cases.add(
          TwoLevelCase.of("a==b" + size, 2 * n, 1, p -> low(p, bits) == p >> bits ? 1 : 0, 1 << n));
      cases.add(
          TwoLevelCase.of("a!=b" + size, 2 * n, 1, p -> low(p, bits) != p >> bits ? 1 : 0, 2 * n));
    }
    return cases.stream();
  }

  static Stream<TwoLevelCase> coding() {
    List<TwoLevelCase> cases = new ArrayList<>();
    cases.add(TwoLevelCase.of("binary to Gray (computed)", 4, 4, p -> p ^ p >> 1, 7, 2, 2, 2, 1));
    cases.add(
        TwoLevelCase.of(
            "Gray to binary (computed)", 4, 4, p -> p ^ p >> 1 ^ p >> 2 ^ p >> 3, 15, 8, 4, 2, 1));
    cases.add(
        TwoLevelCase.of(
            "BCD to excess-3 (computed)", 4, 4, p -> p + 3, p -> p < 10, 8, 1, 2, 3, 3));
    cases.add(
        TwoLevelCase.of(
            "BCD plus 1 (computed)", 4, 4, p -> (p + 1) % 10, p -> p < 10, 8, 1, 2, 3, 2));
    for (int k = 1; k <= 3; k++) {
      int select = k;
      cases.add(
          TwoLevelCase.of(
              "multiplexer of " + (1 << k) + " (from memory)",
              k + (1 << k),
              1,
              p -> p >> select >> low(p, select) & 1,
              1 << k));
    }
    return cases.stream();
  }

  static Stream<TwoLevelCase> sevenSegments() {
    List<TwoLevelCase> cases = new ArrayList<>();
    for (int variant = 0; variant < 8; variant++) {
      int glyphs = variant;
      Integer[] each = variant == 3 ? new Integer[] {4, 3, 3, 5, 2, 4, 4} : new Integer[0];
      cases.add(
          TwoLevelCase.of(
              "BCD to seven segments, variant "
                  + variant
                  + " (9: R. Katz, Contemporary Logic Design, chapter 4, from memory)",
              4,
              7,
              p -> segments(p, glyphs),
              p -> p < 10,
              9,
              each));
    }
    cases.add(
        TwoLevelCase.of(
            "BCD to seven segments, 10 to 15 blank (computed)",
            4,
            7,
            p -> p < 10 ? segments(p, 3) : 0,
            9,
            4,
            4,
            3,
            5,
            2,
            4,
            4));
    cases.add(
        TwoLevelCase.of(
            "hexadecimal to seven segments (computed)",
            4,
            7,
            p -> segments(p, 3),
            14,
            6,
            5,
            5,
            5,
            4,
            5,
            5));
    return cases.stream();
  }

  /** Segment a is bit 0; variant bits: tail on 6, tail on 9, hook on 7. */
  private static long segments(int digit, int variant) {
    String[] glyphs = {
      "abcdef", "bc", "abdeg", "abcdg", "bcfg", "acdfg", "cdefg", "abc", "abcdefg", "abcfg",
      "abcefg", "cdefg", "adef", "bcdeg", "adefg", "aefg"
    };
    long lit = glyphs[digit].chars().mapToLong(c -> 1L << (c - 'a')).sum();
    if (digit == 6 && (variant & 1) != 0) {
      lit |= 1;
    } else if (digit == 9 && (variant & 2) != 0) {
      lit |= 1 << 3;
    } else if (digit == 7 && (variant & 4) != 0) {
      lit |= 1 << 5;
    }
    return lit;
  }

  @ParameterizedTest
  @MethodSource({"counting", "arithmetic", "comparing", "coding", "sevenSegments"})
  void minimize_formula_reachesThePublishedMinimum(TwoLevelCase function) {
    check(function);
  }

  /** Checks the number of terms, the proof, and the cover by simulation. */
  static void check(TwoLevelCase function) {
    TwoLevelMinimizer exact = TwoLevelMinimizer.exact();
    TwoLevelResult shared = exact.minimize(function.tables());
    assertThat(shared.cover().firstMismatch(function.tables()).isEmpty()).isTrue();
    assertThat(shared.terms()).isEqualTo(function.shared());
    assertThat(shared.lowerBound()).isEqualTo(function.shared());
    if (function.each().isEmpty()) {
      return;
    }
    List<TwoLevelResult> each =
        function.tables().stream().map(table -> exact.minimize(List.of(table))).toList();
    for (int o = 0; o < each.size(); o++) {
      List<TruthTable> alone = List.of(function.tables().get(o));
      assertThat(each.get(o).cover().firstMismatch(alone).isEmpty()).isTrue();
      assertThat(each.get(o).proved()).isTrue();
    }
    assertThat(each.stream().map(TwoLevelResult::terms).toList()).isEqualTo(function.each());
  }

  @Test
  void primes_namedFunctions_areAsMany() {
    // Computed, except the multiplexers: 9 and 27 are from memory too.
    assertThat(primes(9, 1, p -> weight(p) >= 3 && weight(p) <= 6 ? 1 : 0)).isEqualTo(1680);
    assertThat(primes(10, 1, p -> weight(p) >= 3 && weight(p) <= 6 ? 1 : 0)).isEqualTo(4200);
    assertThat(primes(6, 1, p -> weight(p) >= 2 && weight(p) <= 4 ? 1 : 0)).isEqualTo(90);
    assertThat(primes(7, 10, p -> 5L * p + 1)).isEqualTo(390);
    assertThat(primes(8, 5, p -> Math.round(Math.hypot(p & 15, p >> 4)))).isEqualTo(401);
    assertThat(
            primes(
                9,
                1,
                p -> weight(low(p, 8)) == 3 || (weight(low(p, 8)) == 2 && p >> 8 != 0) ? 1 : 0))
        .isEqualTo(224);
    // 2^k data terms, and their consensus terms: each select bit may be 0, 1 or left out, so 3^k.
    int[] multiplexer = {3, 9, 27};
    for (int i = 1; i <= 3; i++) {
      int k = i;
      assertThat(primes(k + (1 << k), 1, p -> p >> k >> low(p, k) & 1))
          .isEqualTo(multiplexer[k - 1]);
    }
  }

  private static int primes(int inputs, int outputs, java.util.function.IntToLongFunction value) {
    return PrimeImplicants.of(TwoLevelCase.tables(inputs, outputs, value, p -> true))
        .cubes()
        .size();
  }
}

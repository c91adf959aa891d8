package dev.lengthwise.logic;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Exact minima of the length maps of published instruction sets.
 *
 * <p>The minima were computed independently (mixed integer program, proved optimal, covers
 * simulated). The maps are from memory of the manuals; their counts by length agree with counts
 * taken from disassembler tables.
 */
class TwoLevelLengthMapTest {

  /** {@code counts} are opcodes by length, ascending; {@code binary} is length - 1 in binary. */
  record Map(
      String name,
      List<Integer> lengths,
      String counts,
      int binary,
      List<Integer> binaryEach,
      int oneHot,
      List<Integer> oneHotEach) {

    Map(
        String name,
        int[] lengths,
        String counts,
        int binary,
        List<Integer> binaryEach,
        int oneHot,
        List<Integer> oneHotEach) {
      this(
          name,
          Arrays.stream(lengths).boxed().toList(),
          counts,
          binary,
          binaryEach,
          oneHot,
          oneHotEach);
    }

    @Override
    public String toString() {
      return name;
    }
  }

  static Stream<Map> maps() {
    return Stream.of(
        new Map(
            "8051", LengthMaps.i8051(), "140 91 24", 27, List.of(17, 10), 43, List.of(16, 17, 10)),
        new Map("8080", LengthMaps.i8080(), "200 18 26", 9, List.of(3, 6), 18, List.of(9, 3, 6)),
        new Map(
            "8080, all codes",
            LengthMaps.i8080All(),
            "208 18 30",
            9,
            List.of(3, 6),
            18,
            List.of(9, 3, 6)),
        new Map(
            "Z80 without prefix",
            LengthMaps.z80(),
            "202 24 26",
            11,
            List.of(5, 6),
            21,
            List.of(10, 5, 6)),
        new Map(
            "6502, BRK 1", LengthMaps.m6502(1), "29 74 48", 7, List.of(4, 3), 10, List.of(3, 4, 3)),
        new Map("6502, BRK 2", LengthMaps.m6502(2), "28 75 48", 8, List.of(), 0, List.of()),
        new Map(
            "NMOS 6502, all codes",
            LengthMaps.m6502All(),
            "47 128 81",
            8,
            List.of(5, 3),
            13,
            List.of(5, 5, 3)),
        new Map(
            "65C02 with bit operations",
            LengthMaps.m65c02(),
            "35 105 70",
            7,
            List.of(4, 3),
            10,
            List.of(3, 4, 3)),
        new Map(
            "65C02 with STP, WAI",
            LengthMaps.m65c02WithStop(),
            "37 105 70",
            7,
            List.of(4, 3),
            11,
            List.of(4, 4, 3)),
        new Map(
            "65816, 8-bit registers",
            LengthMaps.m65816(),
            "51 126 61 18",
            19,
            List.of(12, 7),
            27,
            List.of(4, 9, 11, 3)),
        new Map(
            "HuC6280",
            LengthMaps.huc6280(),
            "44 111 72 2 5",
            16,
            List.of(10, 5, 2),
            24,
            List.of(7, 10, 4, 1, 2)),
        new Map("IA-32 has ModR/M", LengthMaps.ia32ModRm(), "182 74", 9, List.of(), 0, List.of()),
        new Map(
            "IA-32 has ModR/M, prefixes free",
            LengthMaps.withoutIa32Prefixes(LengthMaps.ia32ModRm()),
            "169 74",
            9,
            List.of(),
            0,
            List.of()),
        new Map(
            "64-bit has ModR/M", LengthMaps.amd64ModRm(), "186 70", 11, List.of(), 0, List.of()),
        new Map(
            "64-bit has ModR/M, prefixes and invalid free",
            LengthMaps.withoutAmd64Prefixes(LengthMaps.amd64ModRm()),
            "135 70",
            8,
            List.of(),
            0,
            List.of()));
  }

  @ParameterizedTest
  @MethodSource("maps")
  void lengths_countsAgreeWithPublishedTables(Map map) {
    assertThat(
            String.join(
                " ",
                lengthsIn(map)
                    .mapToObj(
                        length ->
                            Long.toString(map.lengths().stream().filter(l -> l == length).count()))
                    .toList()))
        .isEqualTo(map.counts());
  }

  @ParameterizedTest
  @MethodSource("maps")
  void minimize_lengthMinusOneInBinary_reachesTheMinimum(Map map) {
    List<Integer> lengths = map.lengths();
    int bits = 32 - Integer.numberOfLeadingZeros(Collections.max(lengths) - 1);
    TwoLevelFormulaTest.check(
        new TwoLevelCase(
            map.name(),
            TwoLevelCase.tables(8, bits, op -> lengths.get(op) - 1, op -> lengths.get(op) != 0),
            map.binary(),
            map.binaryEach()));
  }

  /** For the others no figure of this encoding is known. */
  static Stream<Map> oneHotMaps() {
    return maps().filter(map -> map.oneHot() != 0);
  }

  @ParameterizedTest
  @MethodSource("oneHotMaps")
  void minimize_oneOutputALength_reachesTheMinimum(Map map) {
    List<Integer> lengths = map.lengths();
    List<TruthTable> tables =
        lengthsIn(map)
            .mapToObj(
                length ->
                    TruthTable.of(8, op -> lengths.get(op) == length, op -> lengths.get(op) != 0))
            .toList();
    TwoLevelFormulaTest.check(new TwoLevelCase(map.name(), tables, map.oneHot(), map.oneHotEach()));
  }

  private static IntStream lengthsIn(Map map) {
    return map.lengths().stream().mapToInt(l -> l).filter(l -> l != 0).distinct().sorted();
  }
}

package dev.lengthwise.examples.suite;

import static dev.lengthwise.examples.suite.WordTables.bits;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Symmetric functions, which only count their ones, and sorting. The names rd53, rd73, rd84 and
 * 9sym are those of the public benchmarks of the MCNC workshops (1991), their definitions from
 * memory.
 */
final class Counting {

  private static final String MCNC = "MCNC benchmark, from memory";
  private static final String PRACTICE = "common practice, no source";

  private Counting() {}

  static List<SuiteFunction> all() {
    return List.of(
        ones("rd53", 5)
            .withKnown(6, 3, SuiteFunction.A_LUT_EACH)
            .withKnown(4, 5, SuiteFunction.BY_HAND),
        ones("rd73", 7).withKnown(6, 5, SuiteFunction.BY_HAND),
        ones("rd84", 8),
        between("9sym", MCNC, 3, 6).withKnown(6, 4, SuiteFunction.BY_HAND),
        between("majority_9", PRACTICE, 5, 9).withKnown(6, 4, SuiteFunction.BY_HAND),
        sortBits(),
        sortPair());
  }

  private static String sum(int inputs) {
    return IntStream.range(0, inputs)
        .mapToObj(i -> "x[" + i + "]")
        .collect(Collectors.joining(" + "));
  }

  private static SuiteFunction ones(String name, int inputs) {
    Gates gates = new Gates(inputs);
    int[] count = gates.count(Gates.inputs(0, inputs));
    return SuiteFunction.of(name, MCNC, WordTables.of(inputs, count.length, Integer::bitCount))
        .withFormula("assign y = " + sum(inputs) + ";")
        .withGates(gates.build(count));
  }

  /** Nine inputs, 1 if so many of them are. */
  private static SuiteFunction between(String name, String source, int least, int most) {
    Gates gates = new Gates(9);
    int[] count = gates.count(Gates.inputs(0, 9));
    int tooFew = gates.less(count, Gates.constant(least, 4));
    int tooMany = gates.less(Gates.constant(most, 4), count);
    return SuiteFunction.of(
            name,
            source,
            WordTables.of(
                9, 1, x -> Integer.bitCount(x) >= least && Integer.bitCount(x) <= most ? 1 : 0))
        .withFormula(
            "wire [3:0] n = " + sum(9) + ";",
            SuiteFunction.line("assign y = n >= %d && n <= %d;", least, most))
        .withGates(gates.build(gates.not(gates.or(tooFew, tooMany))));
  }

  /**
   * Eight bits sorted, the ones first; the network is Batcher's, of 19 comparators (D. E. Knuth,
   * The Art of Computer Programming, volume 3, section 5.3.4, from memory).
   */
  private static SuiteFunction sortBits() {
    Gates gates = new Gates(8);
    int[] wires = Gates.inputs(0, 8);
    for (int[] pair :
        new int[][] {
          {0, 1}, {2, 3}, {4, 5}, {6, 7}, {0, 2}, {1, 3}, {4, 6}, {5, 7}, {1, 2}, {5, 6}, {0, 4},
          {1, 5}, {2, 6}, {3, 7}, {2, 4}, {3, 5}, {1, 2}, {3, 4}, {5, 6}
        }) {
      int one = wires[pair[0]];
      int other = wires[pair[1]];
      wires[pair[0]] = gates.or(one, other);
      wires[pair[1]] = gates.and(one, other);
    }
    return SuiteFunction.of(
            "sort_bits_8", PRACTICE, WordTables.of(8, 8, x -> (1 << Integer.bitCount(x)) - 1))
        .withFormula("wire [3:0] n = " + sum(8) + ";", "assign y = (9'd1 << n) - 9'd1;")
        .withGates(gates.build(wires));
  }

  /** Two words of four bits, the lesser in the low half. */
  private static SuiteFunction sortPair() {
    Gates gates = new Gates(8);
    int less = gates.less(Gates.inputs(0, 4), Gates.inputs(4, 4));
    int[] sorted = new int[8];
    for (int i = 0; i < 4; i++) {
      sorted[i] = gates.mux(less, 4 + i, i);
      sorted[4 + i] = gates.mux(less, i, 4 + i);
    }
    LutNetwork network = gates.build(sorted);
    return SuiteFunction.of(
            "sort_pair_4",
            PRACTICE,
            WordTables.of(
                8,
                8,
                x ->
                    Math.min(bits(x, 0, 4), bits(x, 4, 4))
                        | Math.max(bits(x, 0, 4), bits(x, 4, 4)) << 4))
        .withFormula("wire less = x[3:0] < x[7:4];", "assign y = less ? x : {x[3:0], x[7:4]};")
        .withGates(network);
  }
}

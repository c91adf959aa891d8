package dev.lengthwise.logic;

import dev.lengthwise.logic.diagram.DecisionDiagrams;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.testing.Interruption;
import dev.lengthwise.testing.Timed;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Proofs that would take hours end soon when their thread is interrupted. */
@Timed
class CancelProofTest {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable XOR = TruthTable.parse("01101001");
  private static final TruthTable MAJORITY = TruthTable.parse("00010111");
  private static final int SOON = 200;

  /**
   * The products of two numbers, whose factors may be exchanged: hard for every method of proof.
   */
  private static LutNetwork product(int bits, boolean exchanged) {
    LutNetworkBuilder builder =
        LutNetwork.builder(IntStream.range(0, 2 * bits).mapToObj(i -> "i" + i).toList());
    List<Integer> sum = new ArrayList<>(Collections.nCopies(2 * bits, LutNetwork.ZERO));
    for (int i = 0; i < bits; i++) {
      int carry = LutNetwork.ZERO;
      for (int j = 0; j < bits; j++) {
        int term = builder.lut(AND, exchanged ? j : i, bits + (exchanged ? i : j));
        int old = sum.get(i + j);
        sum.set(i + j, builder.lut(XOR, old, term, carry));
        carry = builder.lut(MAJORITY, old, term, carry);
      }
      sum.set(i + bits, carry);
    }
    IntStream.range(0, sum.size()).forEach(i -> builder.output("o" + i, sum.get(i)));
    return builder.build();
  }

  @Test
  void exhaustive_ends() throws Exception {
    LutNetwork network = product(15, false);
    Interruption.assertEnds(
        "all points",
        SOON,
        () ->
            Equivalence.check(
                network, inputs -> java.util.Arrays.copyOf(network.evaluate(inputs), 2 * 30)));
  }

  @Test
  void satisfiability_ends() throws Exception {
    Interruption.assertEnds(
        "satisfiability",
        SOON,
        () -> Equivalence.check(product(13, false), product(13, true), Integer.MAX_VALUE));
  }

  @Test
  void diagrams_end() throws Exception {
    int bits = 16;
    LutNetwork network = product(bits, false);
    Interruption.assertEnds(
        "decision diagrams",
        SOON,
        () -> {
          DecisionDiagrams diagrams = new DecisionDiagrams(2 * bits);
          int[] values = new int[2 * bits + network.luts().size()];
          for (int i = 0; i < 2 * bits; i++) {
            values[i] = diagrams.variable(i);
          }
          for (int lut = 0; lut < network.luts().size(); lut++) {
            int[] in = network.luts().get(lut).fanIns().stream().mapToInt(s -> values[s]).toArray();
            TruthTable table = network.luts().get(lut).table();
            int value = 0;
            for (int point = 0; point < 1 << in.length; point++) {
              int term = table.isOn(point) ? 1 : 0;
              for (int i = 0; i < in.length && term != 0; i++) {
                term =
                    (point >> i & 1) != 0
                        ? diagrams.choose(in[i], term, 0)
                        : diagrams.choose(in[i], 0, term);
              }
              value = diagrams.choose(term, 1, value);
            }
            values[2 * bits + lut] = value;
          }
          return diagrams.size();
        });
  }
}

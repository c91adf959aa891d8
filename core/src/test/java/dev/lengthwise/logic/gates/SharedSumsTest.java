package dev.lengthwise.logic.gates;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.proof.Equivalence;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class SharedSumsTest {

  private static final TruthTable XOR = TruthTable.parse("0110");
  private static final TruthTable XNOR = TruthTable.parse("1001");
  private static final TruthTable AND = TruthTable.parse("0001");

  private static final int INPUTS = 12;

  private static List<String> names(int count) {
    return IntStream.range(0, count).mapToObj(i -> "x" + i).toList();
  }

  /**
   * The checks of the code whose columns are the numbers 1 to 15: R. W. Hamming, "Error Detecting
   * and Error Correcting Codes", Bell System Technical Journal 29 (1950), section 3. Each sums
   * eight bits; two and two have four in common, so six LUTs of six inputs are enough, and one
   * fewer is not: none of four sums of eight fits one LUT, so there are two more at least.
   */
  @Test
  void cover_checksOfFifteenBits_takeSixLuts() {
    LutNetworkBuilder builder = LutNetwork.builder(names(15));
    for (int check = 0; check < 4; check++) {
      int sum = LutNetwork.ZERO;
      for (int column = 1; column <= 15; column++) {
        if ((column >> check & 1) != 0) {
          sum = sum == LutNetwork.ZERO ? column - 1 : builder.lut(XOR, sum, column - 1);
        }
      }
      builder.output("check" + check, sum);
    }
    LutNetwork gates = builder.build();
    LutNetwork covered = Restructuring.forInputs(6).map(gates);
    assertThat(covered.luts()).hasSize(6);
    assertThat(Equivalence.check(covered, gates, 1).proved()).isTrue();
  }

  @Test
  void of_randomSums_sameFunctionsInEachOrder() {
    Random random = new Random(17);
    int shared = 0;
    for (int i = 0; i < 60; i++) {
      LutNetwork gates = random(random, 20 + random.nextInt(60));
      AndGraph graph = GateGraph.of(gates, new int[INPUTS], new Forms()).clean();
      List<AndGraph> sums = SharedSums.of(graph);
      shared += sums.size() == 2 ? 1 : 0;
      List<String> outputs = gates.outputs().stream().map(LutNetwork.Output::name).toList();
      for (AndGraph one : sums) {
        LutNetwork again =
            CutCover.of(one, 4, DelayModel.LEVELS, 0).network(gates.inputNames(), outputs);
        assertThat(Equivalence.check(again, gates, 1).proved()).isTrue();
      }
    }
    assertThat(shared).isAtLeast(50);
  }

  /** Sums of any signals, those of sums and of conjunctions too, some of them with a 1 added. */
  private static LutNetwork random(Random random, int gates) {
    LutNetworkBuilder builder = LutNetwork.builder(names(INPUTS));
    List<Integer> signals = new ArrayList<>(IntStream.range(0, INPUTS).boxed().toList());
    for (int i = 0; i < gates; i++) {
      TruthTable gate = List.of(XOR, XOR, XNOR, AND).get(random.nextInt(4));
      int a = signals.get(random.nextInt(signals.size()));
      int b = signals.get(random.nextInt(signals.size()));
      int signal = builder.lut(gate, a, b);
      if (signal >= 0 && !signals.contains(signal)) {
        signals.add(signal);
      }
    }
    for (int i = 0; i < 8; i++) {
      builder.output("y" + i, signals.get(signals.size() - 1 - i));
    }
    return builder.build();
  }
}

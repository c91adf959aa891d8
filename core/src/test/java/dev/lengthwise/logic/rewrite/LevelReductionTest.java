package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class LevelReductionTest {

  private static final int INPUTS = 10;

  /** A chain of gates of two inputs, a level each. */
  private static LutNetwork chain(TruthTable gate) {
    List<String> names = IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList();
    LutNetworkBuilder builder = LutNetwork.builder(names);
    int last = 0;
    for (int i = 1; i < INPUTS; i++) {
      last = builder.lut(gate, last, i);
    }
    builder.output("y", last);
    return builder.build();
  }

  private static EditableNetwork lowered(
      LutNetwork network, TruthTable function, int levels, int spare) {
    EditableNetwork net = new EditableNetwork(network, List.of(function), spare);
    Random random = new Random(1);
    boolean lower = true;
    while (lower && net.toNetwork(network.inputNames(), List.of("y")).levels() > levels) {
      lower = new LevelReduction(net, 4, 50, random).run(200);
    }
    return net;
  }

  @Test
  void run_chains_becomeTreesOfTwoLevels() {
    List<TruthTable> gates = new ArrayList<>();
    gates.add(TruthTable.of(2, p -> p == 3));
    gates.add(TruthTable.of(2, p -> p == 1 || p == 2));
    List<TruthTable> functions =
        List.of(
            TruthTable.of(INPUTS, p -> p == (1 << INPUTS) - 1),
            TruthTable.of(INPUTS, p -> (Integer.bitCount(p) & 1) != 0));
    for (int i = 0; i < gates.size(); i++) {
      LutNetwork chain = chain(gates.get(i));
      assertThat(chain.levels()).isEqualTo(INPUTS - 1);
      EditableNetwork net = lowered(chain, functions.get(i), 2, 20);
      // Four inputs a LUT reach 16 inputs in two levels, and none reach ten in one.
      assertThat(net.toNetwork(chain.inputNames(), List.of("y")).levels()).isEqualTo(2);
      assertThat(net.isRight()).isTrue();
    }
  }

  @Test
  void run_noSlotToSpare_leavesTheFunction() {
    TruthTable parity = TruthTable.of(INPUTS, p -> (Integer.bitCount(p) & 1) != 0);
    EditableNetwork net = lowered(chain(TruthTable.of(2, p -> p == 1 || p == 2)), parity, 2, 0);
    assertThat(net.isRight()).isTrue();
  }

  @Test
  void run_oneLevelTooFew_leavesTheFunction() {
    TruthTable parity = TruthTable.of(INPUTS, p -> (Integer.bitCount(p) & 1) != 0);
    EditableNetwork net = lowered(chain(TruthTable.of(2, p -> p == 1 || p == 2)), parity, 1, 20);
    assertThat(net.isRight()).isTrue();
  }
}

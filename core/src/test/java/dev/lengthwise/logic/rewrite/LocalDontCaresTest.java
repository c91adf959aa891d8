package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.proof.Equivalence;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class LocalDontCaresTest {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable OR = TruthTable.parse("0111");
  private static final TruthTable XOR = TruthTable.parse("0110");

  private static LutNetworkBuilder inputs(int count) {
    return LutNetwork.builder(IntStream.range(0, count).mapToObj(i -> "x" + i).toList());
  }

  /** Two signals that are never both 1, of which one is x0 where the other is not. */
  @Test
  void shrink_signalsThatNeverMeet_areReadAsOne() {
    LutNetworkBuilder builder = inputs(3);
    int both = builder.lut(AND, 0, 1);
    int first = builder.lut(TruthTable.parse("0100"), 0, 1);
    int either = builder.lut(XOR, both, first);
    builder.output("y", builder.lut(OR, either, 2)).output("both", both);
    LutNetwork network = builder.build();
    LutNetwork shrunk = LocalDontCares.shrink(network, 2);
    assertThat(network.luts()).hasSize(4);
    assertThat(shrunk.luts()).hasSize(2);
    assertThat(Equivalence.check(shrunk, network, 1).proved()).isTrue();
  }

  /** What y hides of its reader: (x0 OR x1) AND x0 is x0, so that nothing needs x1. */
  @Test
  void shrink_whatIsHiddenAbove_isDropped() {
    LutNetworkBuilder builder = inputs(3);
    int either = builder.lut(OR, 0, 1);
    builder.output("y", builder.lut(AND, builder.lut(AND, either, 2), 0));
    LutNetwork shrunk = LocalDontCares.shrink(builder.build(), 2);
    assertThat(shrunk.luts()).hasSize(1);
    assertThat(shrunk.luts().get(0).fanIns()).containsExactly(0, 2);
  }

  @Test
  void shrink_randomNetworks_areTheFunctionInNoMoreLutsAndLevels() {
    Random random = new Random(5);
    int fewer = 0;
    for (int run = 0; run < 12; run++) {
      int width = 3 + run % 3;
      LutNetwork network = random(random, 120, width);
      LutNetwork shrunk = LocalDontCares.shrink(network, width);
      assertThat(Equivalence.check(shrunk, network, 1).detail())
          .isEqualTo("agrees at all 65536 points");
      assertThat(shrunk.luts().size()).isAtMost(network.luts().size());
      assertThat(shrunk.levels()).isAtMost(network.levels());
      assertThat(shrunk.mostFanIns()).isAtMost(width);
      assertThat(LocalDontCares.shrink(network, width)).isEqualTo(shrunk);
      fewer += shrunk.luts().size() < network.luts().size() ? 1 : 0;
    }
    assertThat(fewer).isAtLeast(6);
  }

  private static LutNetwork random(Random random, int size, int width) {
    LutNetworkBuilder builder = inputs(16);
    List<Integer> signals = new ArrayList<>(IntStream.range(0, 16).boxed().toList());
    while (signals.size() < size) {
      TruthTable table = TruthTable.of(2 + random.nextInt(width - 1), p -> random.nextBoolean());
      int[] fanIns =
          random
              .ints(0, Math.min(24, signals.size()))
              .distinct()
              .limit(table.inputs())
              .map(back -> signals.get(signals.size() - 1 - back))
              .toArray();
      int signal = builder.lut(table, fanIns);
      if (signal >= 0 && !signals.contains(signal)) {
        signals.add(signal);
      }
    }
    for (int i = 0; i < 10; i++) {
      builder.output("y" + i, signals.get(signals.size() - 1 - i));
    }
    return builder.output("one", LutNetwork.ONE).output("in", 3).build();
  }
}

package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class PlateauWalkTest {

  private static final int INPUTS = 8;

  private static final List<String> NAMES =
      IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList();

  /** A four-bit adder, as a ripple of carries whose majority and sum are made of small gates. */
  private static LutNetwork adder() {
    LutNetworkBuilder builder = LutNetwork.builder(NAMES);
    TruthTable and = TruthTable.of(2, p -> p == 3);
    TruthTable or = TruthTable.of(2, p -> p != 0);
    TruthTable different = TruthTable.of(2, p -> p == 1 || p == 2);
    int carry = LutNetwork.ZERO;
    for (int bit = 0; bit < 4; bit++) {
      int a = bit;
      int b = 4 + bit;
      int half = builder.lut(different, a, b);
      int both = builder.lut(and, a, b);
      if (bit == 0) {
        builder.output("s0", half);
        carry = both;
      } else {
        builder.output("s" + bit, builder.lut(different, half, carry));
        carry = builder.lut(or, both, builder.lut(and, half, carry));
      }
    }
    builder.output("s4", carry);
    return builder.build();
  }

  private static List<TruthTable> sums() {
    return IntStream.range(0, 5)
        .mapToObj(bit -> TruthTable.of(INPUTS, p -> (((p & 15) + (p >> 4)) >> bit & 1) != 0))
        .toList();
  }

  @Test
  void run_adderOfGates_oneLutASumAndOneACarry() {
    LutNetwork gates = adder();
    EditableNetwork net = new EditableNetwork(gates, sums(), 4);
    new PlateauWalk(net, 3, gates.levels(), new SplittableRandom(1)).run(3_000);
    assertThat(net.isRight()).isTrue();
    // Four full adders of two LUTs each with three inputs: five sums, three carries between them.
    assertThat(net.size()).isAtMost(8);
    assertThat(net.toNetwork(NAMES, List.of("s0", "s1", "s2", "s3", "s4")).levels())
        .isAtMost(gates.levels());
  }

  @Test
  void duplicate_lutsReadTwice_sameFunctionOfMoreLuts() {
    EditableNetwork net = new EditableNetwork(adder(), sums(), 6);
    int before = net.size();
    new PlateauWalk(net, 3, 8, new SplittableRandom(2)).duplicate(6);
    assertThat(net.size()).isGreaterThan(before);
    assertThat(net.isRight()).isTrue();
  }

  @Test
  void duplicate_noRoom_leavesTheNetwork() {
    EditableNetwork net = new EditableNetwork(adder(), sums(), 0);
    int before = net.size();
    new PlateauWalk(net, 3, 8, new SplittableRandom(2)).duplicate(6);
    assertThat(net.size()).isEqualTo(before);
    assertThat(net.isRight()).isTrue();
  }
}

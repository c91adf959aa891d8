package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.testing.Slow;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

@Slow
class ExchangeWalkTest {

  private static final int INPUTS = 8;

  private static final List<String> NAMES =
      IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList();

  private static final List<String> PRODUCT =
      IntStream.range(0, INPUTS).mapToObj(i -> "p" + i).toList();

  private static List<TruthTable> products() {
    return IntStream.range(0, INPUTS)
        .mapToObj(bit -> TruthTable.of(INPUTS, p -> ((p & 15) * (p >> 4) >> bit & 1) != 0))
        .toList();
  }

  /** A multiplier of four by four bits, as rows of full adders under partial products. */
  private static LutNetwork multiplier() {
    LutNetworkBuilder builder = LutNetwork.builder(NAMES);
    TruthTable and = TruthTable.of(2, p -> p == 3);
    TruthTable sum = TruthTable.of(3, p -> Integer.bitCount(p) % 2 != 0);
    TruthTable carry = TruthTable.of(3, p -> Integer.bitCount(p) >= 2);
    int[] total = new int[INPUTS];
    for (int row = 0; row < 4; row++) {
      int carried = LutNetwork.ZERO;
      for (int column = 0; column < 4; column++) {
        int bit = builder.lut(and, column, 4 + row);
        int at = row + column;
        int before = row == 0 ? LutNetwork.ZERO : total[at];
        total[at] = builder.lut(sum, bit, before, carried);
        carried = builder.lut(carry, bit, before, carried);
      }
      total[row + 4] = carried;
    }
    for (int i = 0; i < INPUTS; i++) {
      builder.output(PRODUCT.get(i), total[i]);
    }
    return builder.build();
  }

  private static LutNetwork walked(int lutInputs, int mostLevels, int steps) {
    EditableNetwork net = new EditableNetwork(multiplier(), products(), 0);
    new ExchangeWalk(net, lutInputs, mostLevels, new SplittableRandom(1)).run(steps);
    assertThat(net.isRight()).isTrue();
    return net.toNetwork(NAMES, PRODUCT);
  }

  @Test
  void run_multiplierOfAdders_leavesFewerLutsThanExchangesThatStayNarrow() {
    LutNetwork gates = multiplier();
    LutNetwork wide = walked(4, gates.levels(), 200_000);
    assertThat(wide.levels()).isAtMost(gates.levels());
    assertThat(wide.mostFanIns()).isAtMost(4);
    EditableNetwork net = new EditableNetwork(gates, products(), 0);
    new Resubstitution(net, 4, gates.levels(), new SplittableRandom(1)).run(200_000);
    assertThat(wide.luts().size()).isLessThan(net.size());
    assertThat(wide.luts().size()).isAtMost(30);
  }

  @Test
  void run_inBoundOfLevels_keepsIt() {
    int levels = multiplier().levels();
    assertThat(walked(6, levels, 20_000).levels()).isAtMost(levels);
  }

  @Test
  void run_twice_givesEqualNetworks() {
    assertThat(walked(6, 9, 20_000)).isEqualTo(walked(6, 9, 20_000));
  }

  @Test
  void run_constantsAndBuffers_endsWithoutALut() {
    LutNetworkBuilder builder = LutNetwork.builder(NAMES);
    int same = builder.lut(TruthTable.of(2, p -> p == 1 || p == 3), 0, 1);
    builder.output("buffer", builder.lut(TruthTable.of(2, p -> p == 1 || p == 3), same, 2));
    EditableNetwork net =
        new EditableNetwork(builder.build(), List.of(TruthTable.of(INPUTS, p -> (p & 1) != 0)), 0);
    new ExchangeWalk(net, 4, 3, new SplittableRandom(1)).run(1_000);
    assertThat(net.size()).isEqualTo(0);
    assertThat(net.isRight()).isTrue();
  }
}

package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class WindowSearchTest {

  private static final List<String> NAMES = IntStream.range(0, 4).mapToObj(i -> "x" + i).toList();

  /** A chain of exclusive ors of two inputs. */
  private static LutNetwork parity() {
    LutNetworkBuilder builder = LutNetwork.builder(NAMES);
    TruthTable different = TruthTable.of(2, p -> p == 1 || p == 2);
    int last = builder.lut(different, 0, 1);
    last = builder.lut(different, last, 2);
    builder.output("y", builder.lut(different, last, 3));
    return builder.build();
  }

  private static EditableNetwork searched(TruthTable function, int lutInputs, int mostLevels) {
    EditableNetwork net = new EditableNetwork(parity(), List.of(function), 0);
    WindowSearch search = new WindowSearch(net, lutInputs, mostLevels, new SplittableRandom(1));
    for (int i = 0; i < 40; i++) {
      search.step(2 + i % 2, 4);
    }
    return net;
  }

  @Test
  void step_parityOfFour_oneLutOfFourInputs() {
    TruthTable parity = TruthTable.of(4, p -> (Integer.bitCount(p) & 1) != 0);
    EditableNetwork net = searched(parity, 4, 3);
    assertThat(net.size()).isEqualTo(1);
    assertThat(net.isRight()).isTrue();
  }

  @Test
  void step_lutsOfTwoInputs_noneCanGo() {
    TruthTable parity = TruthTable.of(4, p -> (Integer.bitCount(p) & 1) != 0);
    // Four inputs that all matter take three gates of two.
    EditableNetwork net = searched(parity, 2, 3);
    assertThat(net.size()).isEqualTo(3);
    assertThat(net.isRight()).isTrue();
  }

  @Test
  void step_pointsThatDoNotMatter_areUsed() {
    // Right at the points where x2 and x3 are 0 only: one gate is enough.
    TruthTable loose =
        TruthTable.of(4, p -> (Integer.bitCount(p) & 1) != 0, p -> (p & 0b1100) == 0);
    EditableNetwork net = searched(loose, 2, 3);
    assertThat(net.size()).isEqualTo(1);
    assertThat(net.isRight()).isTrue();
  }
}

package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.function.TruthTable;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class NetworkWordsTest {

  private static final int INPUTS = 11;

  /** Returns a network of LUTs of 1 to 8 inputs with many LUTs and both constants as outputs. */
  private static LutNetwork random(Random random) {
    LutNetworkBuilder builder =
        LutNetwork.builder(IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList());
    for (int i = 0; i < 40; i++) {
      int width = 1 + random.nextInt(LutNetwork.MOST_FAN_INS);
      int[] fanIns = random.ints(width, 0, INPUTS + i / 2).map(s -> s % INPUTS).toArray();
      int dense = random.nextInt(4);
      TruthTable table = TruthTable.of(width, p -> random.nextInt(4) <= dense);
      int lut = builder.lut(table, fanIns);
      builder.output("y" + i, lut);
      int[] later = fanIns.clone();
      later[0] = lut;
      builder.output("z" + i, builder.lut(TruthTable.of(width, p -> random.nextBoolean()), later));
    }
    return builder.output("zero", LutNetwork.ZERO).output("one", LutNetwork.ONE).build();
  }

  @Test
  void evaluate_randomNetworks_areTheirTablesPointByPoint() {
    for (int seed = 0; seed < 20; seed++) {
      Random random = new Random(seed);
      LutNetwork network = random(random);
      NetworkWords words = new NetworkWords(network);
      for (int round = 0; round < 5; round++) {
        long[] inputs = random.longs(INPUTS).toArray();
        long[] found = words.evaluate(inputs);
        for (int p = 0; p < Long.SIZE; p++) {
          boolean[] signals = signals(network, inputs, p);
          for (int o = 0; o < found.length; o++) {
            int signal = network.outputs().get(o).signal();
            boolean wanted = signal < 0 ? signal == LutNetwork.ONE : signals[signal];
            assertWithMessage("seed %s, output %s, point %s", seed, o, p)
                .that((found[o] >>> p & 1) != 0)
                .isEqualTo(wanted);
          }
        }
      }
    }
  }

  /** Looks each LUT up in its table. */
  private static boolean[] signals(LutNetwork network, long[] inputs, int point) {
    boolean[] signals = new boolean[INPUTS + network.luts().size()];
    for (int i = 0; i < INPUTS; i++) {
      signals[i] = (inputs[i] >>> point & 1) != 0;
    }
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      int place = 0;
      for (int k = 0; k < lut.fanIns().size(); k++) {
        place |= signals[lut.fanIns().get(k)] ? 1 << k : 0;
      }
      signals[INPUTS + i] = lut.table().isOn(place);
    }
    return signals;
  }

  @Test
  void evaluate_anotherNumberOfWords_isRejected() {
    NetworkWords words = new NetworkWords(LutNetwork.builder(List.of("a")).output("y", 0).build());
    assertThat(assertThrows(IllegalArgumentException.class, () -> words.evaluate(new long[2])))
        .hasMessageThat()
        .isEqualTo("lut network: 1 inputs take as many words, found 2");
  }
}

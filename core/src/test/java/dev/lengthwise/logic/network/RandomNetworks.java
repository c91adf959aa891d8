package dev.lengthwise.logic.network;

import dev.lengthwise.logic.function.TruthTable;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;

/** Networks that are drawn at random. */
public final class RandomNetworks {

  private RandomNetworks() {}

  /**
   * Returns a network of LUTs of two to four inputs, whose last signals are its outputs.
   *
   * @param random where draws come from
   * @param inputs at least 2
   * @param luts at least 1
   * @param outputs at most as many as there are signals
   */
  public static LutNetwork of(Random random, int inputs, int luts, int outputs) {
    List<String> names = IntStream.range(0, inputs).mapToObj(i -> "i" + i).toList();
    LutNetworkBuilder builder = LutNetwork.builder(names);
    for (int i = 0; i < luts; i++) {
      int[] signals =
          random.ints(0, builder.signals()).distinct().limit(2 + random.nextInt(3)).toArray();
      long table = random.nextLong();
      builder.lut(TruthTable.of(signals.length, p -> (table >>> p & 1) != 0), signals);
    }
    for (int o = 0; o < outputs; o++) {
      builder.output("o" + o, builder.signals() - 1 - o);
    }
    return builder.build();
  }
}

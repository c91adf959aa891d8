package dev.lengthwise.examples.suite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;

/** A network of LUTs as one draws it by hand, each said as a function of its fan-ins' word. */
final class PencilNetwork {

  private final LutNetworkBuilder builder;
  private int outputs;

  PencilNetwork(int inputs) {
    builder = LutNetwork.builder(IntStream.range(0, inputs).mapToObj(i -> "x" + i).toList());
  }

  /** Adds a LUT; bit i of the word is the value of fan-in i. */
  int lut(IntPredicate isOn, int... fanIns) {
    return builder.lut(TruthTable.of(fanIns.length, isOn), fanIns);
  }

  /** Adds a LUT that says a bit of the number of ones among its fan-ins. */
  int countBit(int bit, int... fanIns) {
    return lut(word -> (Integer.bitCount(word) >> bit & 1) != 0, fanIns);
  }

  void output(int signal) {
    builder.output("y" + outputs++, signal);
  }

  LutNetwork build() {
    return builder.build();
  }

  /** Tells whether a word has a bit. */
  static boolean has(int word, int bit) {
    return (word >> bit & 1) != 0;
  }

  /** Returns the bit of a word that is 1 if two of three are, else 0. */
  static int majority(int a, int b, int c) {
    return a + b + c >= 2 ? 1 : 0;
  }
}

package dev.lengthwise.testbench;

import dev.lengthwise.circuit.CircuitSimulator;
import dev.lengthwise.realize.Design;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;

/** Runs golden vectors through a design's circuit in Java, without any outside tool. */
public final class BuiltInSimulator {

  private static final int SHOWN = 10;

  private BuiltInSimulator() {}

  /**
   * Applies each vector and compares the length.
   *
   * @param design the design
   * @param vectors the vectors of its lane
   * @return what the circuit said
   */
  public static SimulationResult run(Design design, LaneVectors vectors) {
    long start = System.nanoTime();
    CircuitSimulator simulator = CircuitSimulator.of(design.circuit());
    int code = simulator.input("code");
    int length = simulator.output("length");
    int[] modes =
        design.lane().instructionSet().table().modes().stream()
            .mapToInt(simulator::input)
            .toArray();
    int mismatches = 0;
    List<String> shown = new ArrayList<>();
    for (LaneVector vector : vectors.vectors()) {
      simulator.set(code, words(vector.code()));
      for (int i = 0; i < modes.length; i++) {
        simulator.set(modes[i], vector.modes() >> i & 1);
      }
      simulator.evaluate();
      long found = simulator.get(length);
      if (found != vector.length() && ++mismatches <= SHOWN) {
        shown.add("mismatch at " + vector + " found " + found);
      }
    }
    return new SimulationResult(
        "built-in simulator",
        mismatches == 0 && !vectors.vectors().isEmpty(),
        vectors.vectors().size(),
        mismatches,
        shown,
        String.join("\n", shown),
        Duration.ofNanos(System.nanoTime() - start));
  }

  private static long[] words(byte[] bytes) {
    long[] words = new long[(bytes.length + 7) / 8];
    for (int i = 0; i < bytes.length; i++) {
      words[i / 8] |= (bytes[i] & 0xffL) << 8 * (i % 8);
    }
    return words;
  }
}

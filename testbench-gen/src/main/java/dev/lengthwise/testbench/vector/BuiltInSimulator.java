package dev.lengthwise.testbench.vector;

import dev.lengthwise.circuit.simulate.CircuitSimulator;
import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.cycle.CycleFields;
import dev.lengthwise.testbench.cycle.CycleLines;
import dev.lengthwise.testbench.cycle.HexLine;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.work.Work;
import java.math.BigInteger;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;

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
    for (LaneVectors.Vector vector : vectors.vectors()) {
      Work.check();
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

  /**
   * Runs a row of lanes through the cycles and compares the outputs that are fixed in each.
   *
   * @param design the design, of a row of lanes
   * @param vectors the vectors of that row
   * @return what the circuit said
   */
  public static SimulationResult run(Design design, ArrayVectors vectors) {
    return run(design, vectors.fields(), vectors.run(), vectors.cycles());
  }

  /**
   * Runs a fetch unit through the cycles and compares the outputs that are fixed in each.
   *
   * @param design the design, of a fetch unit
   * @param vectors the vectors of that unit
   * @return what the circuit said
   */
  public static SimulationResult run(Design design, FetchVectors vectors) {
    return run(design, vectors.fields(), vectors.run(), vectors.cycles());
  }

  private static SimulationResult run(
      Design design, CycleFields fields, CycleLines run, int cycles) {
    long start = System.nanoTime();
    CircuitSimulator simulator = CircuitSimulator.of(design.circuit());
    simulator.reset(true);
    simulator.tick();
    simulator.reset(false);
    Map<String, Integer> low = fields.lowBits();
    int mismatches = 0;
    List<String> shown = new ArrayList<>();
    for (int cycle = 0; cycle < cycles; cycle++) {
      Work.check();
      HexLine line = run.next();
      for (CycleFields.Input input : fields.inputs()) {
        simulator.set(
            simulator.input(input.port()), line.bits(low.get(input.port()), input.width()));
      }
      long checks = line.bits(low.get(CycleFields.CHECKS), 8)[0];
      for (CycleFields.Output output : fields.outputs()) {
        boolean isFixed =
            (checks >> output.check() & 1) != 0
                && (output.onlyWith().isEmpty()
                    || line.bits(low.get(output.onlyWith()), 1)[0] != 0);
        long[] expected = line.bits(low.get(output.port()), output.width());
        long[] found = new long[expected.length];
        simulator.get(simulator.output(output.port()), found);
        if (isFixed && !Arrays.equals(found, expected) && ++mismatches <= SHOWN) {
          shown.add(
              String.format(
                  Locale.ROOT,
                  "mismatch at cycle %d: %s expected %s found %s",
                  cycle,
                  output.port(),
                  hex(expected),
                  hex(found)));
        }
      }
      simulator.tick();
    }
    return new SimulationResult(
        "built-in simulator",
        mismatches == 0,
        cycles,
        mismatches,
        shown,
        String.join("\n", shown),
        Duration.ofNanos(System.nanoTime() - start));
  }

  private static String hex(long[] words) {
    BigInteger value = BigInteger.ZERO;
    for (int i = words.length - 1; i >= 0; i--) {
      value = value.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[i])));
    }
    return value.toString(16);
  }

  private static long[] words(byte[] bytes) {
    long[] words = new long[(bytes.length + 7) / 8];
    for (int i = 0; i < bytes.length; i++) {
      words[i / 8] |= (bytes[i] & 0xffL) << 8 * (i % 8);
    }
    return words;
  }
}

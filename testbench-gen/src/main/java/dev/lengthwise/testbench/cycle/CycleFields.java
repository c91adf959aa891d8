package dev.lengthwise.testbench.cycle;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The fields of a cycle in a vector file of a clocked design, each of whole bytes: {@code checks},
 * the outputs, the inputs. The benches and the writer of the file take them from here.
 */
public abstract class CycleFields {

  CycleFields() {}

  /** The key of the field of checks, which no port is called. */
  public static final String CHECKS = "checks of a cycle";

  /**
   * An output of the design.
   *
   * @param port its name
   * @param width bits
   * @param check the bit of the field of checks that says when it is compared
   * @param onlyWith the output that must be 1 for it to be compared, or empty
   */
  public record Output(String port, int width, int check, String onlyWith) {}

  /**
   * An input of the design.
   *
   * @param port its name
   * @param width bits
   */
  public record Input(String port, int width) {}

  /**
   * What the bench counts and reports: cycles in which ports of one bit have values.
   *
   * @param label what they are
   * @param check the bit of the field of checks that must be 1, or -1
   * @param ones the ports that are 1
   * @param zeros the ports that are 0
   */
  public record Counter(String label, int check, List<String> ones, List<String> zeros) {}

  private final List<Output> outputs = new ArrayList<>();
  private final List<Input> inputs = new ArrayList<>();
  private final List<Counter> counters = new ArrayList<>();

  final void output(String port, int width, int check) {
    outputs.add(new Output(port, width, check, ""));
  }

  final void output(String port, int width, int check, String onlyWith) {
    outputs.add(new Output(port, width, check, onlyWith));
  }

  final void input(String port, int width) {
    inputs.add(new Input(port, width));
  }

  final void counter(String label, int check, List<String> ones, List<String> zeros) {
    counters.add(new Counter(label, check, ones, zeros));
  }

  /**
   * Returns the outputs in the order of the fields behind {@code checks}.
   *
   * @return the outputs
   */
  public final List<Output> outputs() {
    return outputs;
  }

  /**
   * Returns the inputs in the order of the fields behind the outputs.
   *
   * @return the inputs
   */
  public final List<Input> inputs() {
    return inputs;
  }

  /**
   * Returns what is counted.
   *
   * @return the counters
   */
  public final List<Counter> counters() {
    return counters;
  }

  private static int fieldBits(int width) {
    return (width + 7) / 8 * 8;
  }

  /**
   * Returns the bits of a cycle.
   *
   * @return bits, whole bytes
   */
  public final int wordBits() {
    return 8
        + outputs.stream().mapToInt(o -> fieldBits(o.width())).sum()
        + inputs.stream().mapToInt(i -> fieldBits(i.width())).sum();
  }

  /**
   * Returns the lowest bit of each field by its port; that of {@link #CHECKS} is the highest byte.
   *
   * @return port to bit
   */
  public final Map<String, Integer> lowBits() {
    Map<String, Integer> low = new LinkedHashMap<>();
    int at = wordBits() - 8;
    low.put(CHECKS, at);
    for (Output output : outputs) {
      at -= fieldBits(output.width());
      low.put(output.port(), at);
    }
    for (Input input : inputs) {
      at -= fieldBits(input.width());
      low.put(input.port(), at);
    }
    return low;
  }
}

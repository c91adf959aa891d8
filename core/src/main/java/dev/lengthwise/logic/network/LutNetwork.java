package dev.lengthwise.logic.network;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.PointWords;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * A combinational network of look-up tables, in topological order.
 *
 * <p>A <em>signal</em> is an {@code int}: {@link #ZERO} and {@link #ONE} are the constants, [0,
 * inputs) the inputs, and {@code inputs + i} the output of LUT i. A LUT reads only signals with
 * smaller numbers than its own. Immutable; {@link LutNetworkBuilder} makes it and keeps it clean:
 * no LUT is dead, constant or a buffer, none repeats a fan-in or reads one that it does not depend
 * on, and no two compute the same table of the same fan-ins.
 */
public final class LutNetwork {

  /** The signal that is always 0. */
  public static final int ZERO = -1;

  /** The signal that is always 1. */
  public static final int ONE = -2;

  /** The most fan-ins of a LUT. */
  public static final int MOST_FAN_INS = 8;

  /**
   * One look-up table.
   *
   * @param fanIns the signals read, ascending; fan-in i is input i of the table
   * @param table the function, completely specified, of 1 to {@value LutNetwork#MOST_FAN_INS}
   *     inputs
   */
  public record Lut(List<Integer> fanIns, TruthTable table) {

    /**
     * Checks that the table fits the fan-ins.
     *
     * @param fanIns see Lut
     * @param table see Lut
     */
    public Lut {
      fanIns = List.copyOf(fanIns);
      if (table.inputs() != fanIns.size() || !table.isComplete()) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "lut: %d fan-ins need a complete table of as many inputs, found %d inputs%s",
                fanIns.size(),
                table.inputs(),
                table.isComplete() ? "" : " with don't-cares"));
      }
    }
  }

  /**
   * One named output.
   *
   * @param name its name
   * @param signal what drives it: a constant, an input or a LUT
   */
  public record Output(String name, int signal) {

    /**
     * Checks that there is a name.
     *
     * @param name see Output
     * @param signal see Output
     */
    public Output {
      Objects.requireNonNull(name, "name");
    }
  }

  private final List<String> inputNames;
  private final List<Lut> luts;
  private final List<Output> outputs;
  private final int[][] fanIns;
  private final long[][] tables;
  private final int[] levels;

  LutNetwork(List<String> inputNames, List<Lut> luts, List<Output> outputs) {
    this.inputNames = List.copyOf(inputNames);
    this.luts = List.copyOf(luts);
    this.outputs = List.copyOf(outputs);
    this.fanIns = new int[luts.size()][];
    this.tables = new long[luts.size()][];
    this.levels = new int[luts.size()];
    for (int i = 0; i < fanIns.length; i++) {
      fanIns[i] = luts.get(i).fanIns().stream().mapToInt(Integer::intValue).toArray();
      tables[i] = luts.get(i).table().onWords();
      levels[i] = 1 + Arrays.stream(fanIns[i]).map(this::level).max().orElse(0);
    }
  }

  /**
   * Starts a network.
   *
   * @param inputNames the names of the inputs, input 0 first
   * @return a builder with no LUT and no output
   */
  public static LutNetworkBuilder builder(List<String> inputNames) {
    return new LutNetworkBuilder(inputNames);
  }

  /**
   * Returns the names of the inputs, input 0 first.
   *
   * @return an immutable list
   */
  public List<String> inputNames() {
    return inputNames;
  }

  /**
   * Returns the LUTs in topological order.
   *
   * @return an immutable list
   */
  public List<Lut> luts() {
    return luts;
  }

  /**
   * Returns the outputs in the order they were added.
   *
   * @return an immutable list
   */
  public List<Output> outputs() {
    return outputs;
  }

  /**
   * Returns the number of LUTs on the longest path from an input to a signal.
   *
   * @param signal a signal of this network
   * @return 0 for a constant or an input
   */
  public int level(int signal) {
    return signal < inputNames.size() ? 0 : levels[signal - inputNames.size()];
  }

  /**
   * Returns the number of LUTs on the longest path from an input to an output.
   *
   * @return 0 if no output is driven by a LUT
   */
  public int levels() {
    return outputs.stream().mapToInt(output -> level(output.signal())).max().orElse(0);
  }

  /**
   * Returns the largest number of fan-ins of a LUT.
   *
   * @return 0 if there is no LUT
   */
  public int mostFanIns() {
    return luts.stream().mapToInt(lut -> lut.fanIns().size()).max().orElse(0);
  }

  /**
   * Evaluates 64 points at once.
   *
   * @param inputWords one word for each input: bit p is the input's value at point p
   * @return one word for each output, likewise
   * @throws IllegalArgumentException if the number of words is not the number of inputs
   */
  public long[] evaluate(long[] inputWords) {
    long[] signals = evaluateSignals(inputWords);
    long[] result = new long[outputs.size()];
    for (int i = 0; i < result.length; i++) {
      int signal = outputs.get(i).signal();
      result[i] = signal == ZERO ? 0L : signal == ONE ? -1L : signals[signal];
    }
    return result;
  }

  /**
   * Evaluates 64 points at once and returns every signal.
   *
   * @param inputWords one word for each input: bit p is the input's value at point p
   * @return one word for each signal from 0 on
   * @throws IllegalArgumentException if the number of words is not the number of inputs
   */
  public long[] evaluateSignals(long[] inputWords) {
    if (inputWords.length != inputNames.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lut network: %d inputs take as many words, found %d",
              inputNames.size(),
              inputWords.length));
    }
    long[] signals = Arrays.copyOf(inputWords, inputWords.length + fanIns.length);
    long[] scratch = new long[1 << (MOST_FAN_INS - 1)];
    for (int i = 0; i < fanIns.length; i++) {
      signals[inputWords.length + i] = PointWords.evaluate(tables[i], fanIns[i], signals, scratch);
    }
    return signals;
  }

  /**
   * Returns the function of an output over all points.
   *
   * @param output the index of the output
   * @return a complete table of as many inputs as the network has
   * @throws IllegalArgumentException if the network has more than {@value TruthTable#MOST_INPUTS}
   *     inputs
   */
  public TruthTable table(int output) {
    int inputs = inputNames.size();
    int words = inputs <= 6 ? 1 : inputs > TruthTable.MOST_INPUTS ? 0 : 1 << (inputs - 6);
    long[] on = new long[words];
    long[] care = new long[words];
    Arrays.fill(care, -1L);
    for (int word = 0; word < words; word++) {
      on[word] = evaluate(PointWords.points(inputs, word))[output];
    }
    return TruthTable.ofWords(inputs, on, care);
  }

  /**
   * Returns a builder that holds this network, with the same signal numbers.
   *
   * @return a new builder
   */
  public LutNetworkBuilder toBuilder() {
    LutNetworkBuilder builder = new LutNetworkBuilder(inputNames);
    List<Integer> map = new ArrayList<>();
    for (int i = 0; i < inputNames.size(); i++) {
      map.add(i);
    }
    for (int i = 0; i < fanIns.length; i++) {
      int[] mapped = Arrays.stream(fanIns[i]).map(map::get).toArray();
      map.add(builder.lut(luts.get(i).table(), mapped));
    }
    outputs.forEach(
        o -> builder.output(o.name(), o.signal() < 0 ? o.signal() : map.get(o.signal())));
    return builder;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof LutNetwork that
        && inputNames.equals(that.inputNames)
        && luts.equals(that.luts)
        && outputs.equals(that.outputs);
  }

  @Override
  public int hashCode() {
    return Objects.hash(inputNames, luts, outputs);
  }

  /** Returns a summary such as {@code "9 inputs, 4 LUTs, 2 levels, 1 outputs"}. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d inputs, %d LUTs, %d levels, %d outputs",
        inputNames.size(),
        luts.size(),
        levels(),
        outputs.size());
  }
}

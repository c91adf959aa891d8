package dev.lengthwise.logic.network;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * Collects LUTs and outputs and makes a clean {@link LutNetwork}.
 *
 * <p>Every LUT is simplified as it is added: constants and repeated fan-ins are folded, fan-ins
 * that do not matter are dropped, inverters are absorbed, fan-ins are sorted, and a LUT that exists
 * (or whose complement does) is not made again. {@link #build()} leaves out what no output needs.
 */
public final class LutNetworkBuilder {

  private record Key(List<Integer> fanIns, TruthTable table) {}

  private final List<String> inputNames;
  private final List<int[]> fanIns = new ArrayList<>();
  private final List<TruthTable> tables = new ArrayList<>();
  private final List<LutNetwork.Output> outputs = new ArrayList<>();
  private final Set<String> outputNames = new HashSet<>();
  private final Map<Key, Integer> known = new HashMap<>();
  private int[] renumbered = {};

  LutNetworkBuilder(List<String> inputNames) {
    this.inputNames = List.copyOf(inputNames);
    if (new HashSet<>(inputNames).size() != inputNames.size()) {
      throw new IllegalArgumentException(
          "lut network: input names must differ, found " + inputNames);
    }
  }

  /**
   * Adds a LUT, or finds the signal that already has its function.
   *
   * @param table the complete function, input i being {@code signals[i]}
   * @param signals constants, inputs or LUTs of this builder
   * @return the signal with that function: a constant, an input, or a LUT's
   * @throws IllegalArgumentException if the table does not fit, or a signal is unknown
   */
  public int lut(TruthTable table, int... signals) {
    if (table.inputs() != signals.length
        || signals.length > LutNetwork.MOST_FAN_INS
        || !table.isComplete()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lut: needs a complete table of as many inputs as signals, at most %d,"
                  + " found %d inputs and %d signals%s",
              LutNetwork.MOST_FAN_INS,
              table.inputs(),
              signals.length,
              table.isComplete() ? "" : " with don't-cares"));
    }
    int[] sources = new int[signals.length];
    int atZero = 0;
    for (int i = 0; i < signals.length; i++) {
      checkSignal("lut", signals[i]);
      boolean inverted = isInverter(signals[i]);
      sources[i] = inverted ? fanInsOf(signals[i])[0] : signals[i];
      atZero |= inverted != (sources[i] == LutNetwork.ONE) ? 1 << i : 0;
    }
    int[] distinct = Arrays.stream(sources).filter(s -> s >= 0).distinct().sorted().toArray();
    int[] flips = new int[distinct.length];
    for (int i = 0; i < sources.length; i++) {
      if (sources[i] >= 0) {
        flips[Arrays.binarySearch(distinct, sources[i])] |= 1 << i;
      }
    }
    int start = atZero;
    TruthTable merged =
        TruthTable.of(distinct.length, point -> table.isOn(place(point, start, flips)));
    return minimal(merged, distinct);
  }

  /**
   * Returns the point of the LUT as asked for that belongs to a point of its distinct sources.
   *
   * @param atZero that where all of them are 0
   * @param flips for each of them, the inputs that it flips
   */
  private static int place(int point, int atZero, int[] flips) {
    int result = atZero;
    for (int rest = point; rest != 0; rest &= rest - 1) {
      result ^= flips[Integer.numberOfTrailingZeros(rest)];
    }
    return result;
  }

  /** Drops the fan-ins that do not matter, then looks the function up or adds it. */
  private int minimal(TruthTable table, int[] signals) {
    for (int i = signals.length - 1; i >= 0; i--) {
      int bit = i;
      boolean matters = false;
      for (int p = 0; p < 1 << signals.length && !matters; p++) {
        matters = table.isOn(p) != table.isOn(p ^ 1 << bit);
      }
      if (!matters) {
        TruthTable smaller =
            TruthTable.of(
                signals.length - 1,
                p -> table.isOn((p & (1 << bit) - 1) | (p >> bit << (bit + 1))));
        int[] rest = new int[signals.length - 1];
        System.arraycopy(signals, 0, rest, 0, i);
        System.arraycopy(signals, i + 1, rest, i, rest.length - i);
        return minimal(smaller, rest);
      }
    }
    if (signals.length == 0) {
      return table.isOn(0) ? LutNetwork.ONE : LutNetwork.ZERO;
    }
    if (signals.length == 1 && table.isOn(1)) {
      return signals[0];
    }
    return findOrAdd(table, signals);
  }

  private int findOrAdd(TruthTable table, int[] signals) {
    List<Integer> list = Arrays.stream(signals).boxed().toList();
    Integer found = known.get(new Key(list, table));
    if (found != null) {
      return found;
    }
    if (signals.length > 1) {
      Integer opposite = known.get(new Key(list, complement(table)));
      if (opposite != null) {
        return findOrAdd(TruthTable.parse("10"), new int[] {opposite});
      }
    }
    fanIns.add(signals);
    tables.add(table);
    int signal = inputNames.size() + fanIns.size() - 1;
    known.put(new Key(list, table), signal);
    return signal;
  }

  private static TruthTable complement(TruthTable table) {
    return TruthTable.of(table.inputs(), p -> !table.isOn(p));
  }

  /**
   * Adds the LUTs of another network that its outputs need.
   *
   * @param part the network; its output names do not matter
   * @param inputs the signal that each of its inputs is here: constants, inputs or LUTs
   * @return the signal that each of its outputs is here
   * @throws IllegalArgumentException if there are not as many signals as inputs, or one is unknown
   */
  public int[] append(LutNetwork part, int... inputs) {
    if (inputs.length != part.inputNames().size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "append: a signal for each of %d inputs is expected, found %d",
              part.inputNames().size(),
              inputs.length));
    }
    int[] signals = Arrays.copyOf(inputs, inputs.length + part.luts().size());
    for (int i = 0; i < part.luts().size(); i++) {
      LutNetwork.Lut lut = part.luts().get(i);
      signals[inputs.length + i] =
          lut(lut.table(), lut.fanIns().stream().mapToInt(s -> signals[s]).toArray());
    }
    return part.outputs().stream()
        .mapToInt(output -> output.signal() < 0 ? output.signal() : signals[output.signal()])
        .toArray();
  }

  /**
   * Adds an output.
   *
   * @param name its name, not used by another output
   * @param signal what drives it
   * @return this
   * @throws IllegalArgumentException if the name is taken or the signal unknown
   */
  public LutNetworkBuilder output(String name, int signal) {
    checkSignal("output " + name, signal);
    if (!outputNames.add(name)) {
      throw new IllegalArgumentException("output: names must differ, found " + name + " twice");
    }
    outputs.add(new LutNetwork.Output(name, signal));
    return this;
  }

  private void checkSignal(String subject, int signal) {
    if (signal < LutNetwork.ONE || signal >= inputNames.size() + fanIns.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s: a signal must be in [%d, %d), found %d",
              subject,
              LutNetwork.ONE,
              inputNames.size() + fanIns.size(),
              signal));
    }
  }

  private int[] fanInsOf(int signal) {
    return fanIns.get(signal - inputNames.size());
  }

  private boolean isInverter(int signal) {
    return signal >= inputNames.size() && fanInsOf(signal).length == 1;
  }

  /**
   * Returns the network of the LUTs that outputs need.
   *
   * @return a new network; the builder may go on
   */
  public LutNetwork build() {
    int inputs = inputNames.size();
    boolean[] live = new boolean[fanIns.size()];
    for (LutNetwork.Output output : outputs) {
      markOutput(output.signal(), live);
    }
    for (int i = live.length - 1; i >= 0; i--) {
      if (live[i]) {
        for (int signal : resolved(i)) {
          if (signal >= inputs) {
            live[signal - inputs] = true;
          }
        }
      }
    }
    renumbered = new int[live.length];
    Arrays.fill(renumbered, LutNetwork.ZERO);
    List<LutNetwork.Lut> luts = new ArrayList<>();
    for (int i = 0; i < live.length; i++) {
      if (live[i]) {
        List<Integer> sources =
            Arrays.stream(resolved(i))
                .mapToObj(s -> s < inputs ? s : renumbered[s - inputs])
                .toList();
        luts.add(new LutNetwork.Lut(sources, resolvedTable(i)));
        renumbered[i] = inputs + luts.size() - 1;
      }
    }
    return new LutNetwork(
        inputNames,
        luts,
        outputs.stream()
            .map(
                o ->
                    o.signal() < inputs
                        ? o
                        : new LutNetwork.Output(o.name(), renumbered[o.signal() - inputs]))
            .toList());
  }

  /**
   * Returns the number that a LUT of this builder has in the network built last, or {@link
   * LutNetwork#ZERO} if no output needs it.
   *
   * @param signal a signal of this builder
   * @return the number
   */
  public int builtSignal(int signal) {
    return signal < inputNames.size() ? signal : renumbered[signal - inputNames.size()];
  }

  /**
   * Returns the number of signals so far: the inputs and the LUTs.
   *
   * @return signals
   */
  public int signals() {
    return inputNames.size() + fanIns.size();
  }

  private void markOutput(int signal, boolean[] live) {
    if (signal >= inputNames.size()) {
      live[signal - inputNames.size()] = true;
    }
  }

  /** An inverter behind a LUT only ever drives outputs; it becomes that LUT's complement. */
  private int[] resolved(int lut) {
    int[] own = fanIns.get(lut);
    return own.length == 1 && own[0] >= inputNames.size() ? fanInsOf(own[0]) : own;
  }

  private TruthTable resolvedTable(int lut) {
    int[] own = fanIns.get(lut);
    return own.length == 1 && own[0] >= inputNames.size()
        ? complement(tables.get(own[0] - inputNames.size()))
        : tables.get(lut);
  }
}

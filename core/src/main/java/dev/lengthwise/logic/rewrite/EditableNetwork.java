package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * A LUT network being rewritten, with the value of every signal at every point of its table.
 *
 * <p>Nodes sit in slots; a slot may be empty. Signals are numbered as in {@link LutNetwork} by
 * slot, but a slot's number says nothing about its place: {@link #order()} is topological. Where
 * every point is simulated, all don't-cares are exact.
 */
public final class EditableNetwork {

  final int inputs;
  public final int words;
  final int[][] fanIns;
  final long[][] tables;
  final long[][] values;
  final int[] outputs;
  private final long[][] specOn;
  private final long[][] specCare;
  private final LutSimulator simulator;
  private final long[][] flipped;
  private final Reserve reserve;
  private DelayModel delays = DelayModel.LEVELS;
  private int[] order;

  /**
   * Prepares for rewriting with every point of a table.
   *
   * @param network the network
   * @param spec the table of each output
   * @param spareSlots the slots left empty
   */
  public EditableNetwork(LutNetwork network, List<TruthTable> spec, int spareSlots) {
    this(network, SpecifiedPoints.of(spec), Optional.empty(), spareSlots);
  }

  /**
   * Prepares for rewriting as far as some points tell.
   *
   * @param network the network
   * @param points the points seen: the network is right at them
   * @param unseen points at which each change is tried before it is kept; those that were against
   *     one are seen from then on, as far as columns of {@code points} do not matter
   * @param spareSlots the slots left empty
   */
  public EditableNetwork(
      LutNetwork network,
      SpecifiedPoints points,
      Optional<SpecifiedPoints> unseen,
      int spareSlots) {
    this.inputs = network.inputNames().size();
    this.words = points.words();
    this.simulator = new LutSimulator(words);
    this.specOn = points.on();
    this.specCare = points.care();
    int slots = network.luts().size() + spareSlots;
    fanIns = new int[slots][];
    tables = new long[slots][];
    values = new long[inputs + slots][words];
    flipped = new long[slots][];
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      fanIns[i] = lut.fanIns().stream().mapToInt(Integer::intValue).toArray();
      tables[i] = lut.table().onWords();
    }
    outputs = network.outputs().stream().mapToInt(LutNetwork.Output::signal).toArray();
    for (int i = 0; i < inputs; i++) {
      values[i] = points.inputs()[i].clone();
    }
    simulate();
    reserve = unseen.map(u -> new Reserve(this, u, points.free())).orElse(null);
  }

  /**
   * Lets signals take what a model says; without one they take a level for each LUT.
   *
   * @param model the delays
   * @return this
   */
  public EditableNetwork timedBy(DelayModel model) {
    delays = model;
    return this;
  }

  /** Returns what signals take. */
  DelayModel delays() {
    return delays;
  }

  /** Returns the occupied slots, each after those it reads. */
  int[] order() {
    if (order == null) {
      int[] found = new int[fanIns.length];
      boolean[] seen = new boolean[fanIns.length];
      int count = 0;
      for (int slot = 0; slot < fanIns.length; slot++) {
        count = visit(slot, seen, found, count);
      }
      order = Arrays.copyOf(found, count);
    }
    return order;
  }

  private int visit(int slot, boolean[] seen, int[] found, int count) {
    if (fanIns[slot] == null || seen[slot]) {
      return count;
    }
    seen[slot] = true;
    int result = count;
    for (int signal : fanIns[slot]) {
      if (signal >= inputs) {
        result = visit(signal - inputs, seen, found, result);
      }
    }
    found[result++] = slot;
    return result;
  }

  /** Returns the number of LUTs. */
  public int size() {
    return order().length;
  }

  int freeSlot() {
    for (int slot = 0; slot < fanIns.length; slot++) {
      if (fanIns[slot] == null) {
        return slot;
      }
    }
    return -1;
  }

  /** Gives a slot a LUT; the caller simulates afterwards. */
  void set(int slot, int[] newFanIns, long[] table) {
    fanIns[slot] = newFanIns;
    tables[slot] = table;
    order = null;
  }

  void simulate() {
    for (int slot : order()) {
      simulate(slot, values);
    }
  }

  /** What a change starts from, to be restored if it goes too far. */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  record Saved(int[][] fanIns, long[][] tables, int[] outputs) {}

  /** Saves what the network is. */
  Saved save() {
    return new Saved(fanIns.clone(), tables.clone(), outputs.clone());
  }

  /**
   * Keeps a change if it is right at the points in reserve too; else the network is what it was,
   * and sees some of the points that were against it.
   *
   * @param before the network before the change
   * @return whether the change was kept
   */
  boolean keep(Saved before) {
    if (reserve == null || reserve.agrees()) {
      return true;
    }
    restore(before);
    reserve.teach();
    return false;
  }

  /** Makes the network what it was before a change. */
  void restore(Saved before) {
    System.arraycopy(before.fanIns, 0, fanIns, 0, fanIns.length);
    System.arraycopy(before.tables, 0, tables, 0, tables.length);
    System.arraycopy(before.outputs, 0, outputs, 0, outputs.length);
    order = null;
    simulate();
  }

  /** Sees a point at a column that did not matter. */
  void see(int column, boolean[] signals, boolean[] on, boolean[] care) {
    for (int i = 0; i < signals.length; i++) {
      put(values[i], column, signals[i]);
    }
    for (int o = 0; o < on.length; o++) {
      put(specOn[o], column, on[o]);
      put(specCare[o], column, care[o]);
    }
  }

  private static void put(long[] words, int column, boolean bit) {
    words[column >> 6] = words[column >> 6] & ~(1L << column) | (bit ? 1L << column : 0);
  }

  /**
   * Returns the points in reserve that were against a change, so far as they are seen now.
   *
   * @return their numbers, in the order in which they were met
   */
  public int[] learned() {
    return reserve == null ? new int[0] : reserve.taught();
  }

  /** Brings the values up to date after a change of one slot. */
  void simulateFrom(int slot) {
    boolean[] changed = new boolean[fanIns.length];
    long[] fresh = new long[words];
    for (int other : order()) {
      if (other == slot || readsAny(other, changed)) {
        simulator.evaluate(tables[other], fanIns[other], values, fresh);
        if (!Arrays.equals(fresh, values[inputs + other])) {
          long[] stale = values[inputs + other];
          values[inputs + other] = fresh;
          fresh = stale;
          changed[other] = true;
        }
      }
    }
  }

  private boolean readsAny(int slot, boolean[] changed) {
    for (int signal : fanIns[slot]) {
      if (signal >= inputs && changed[signal - inputs]) {
        return true;
      }
    }
    return false;
  }

  private void simulate(int slot, long[][] target) {
    simulator.evaluate(tables[slot], fanIns[slot], target, target[inputs + slot]);
  }

  /** Tells which slots depend on the given slot, itself included. */
  boolean[] fanOutCone(int slot) {
    boolean[] cone = new boolean[fanIns.length];
    cone[slot] = true;
    for (int other : order()) {
      for (int signal : fanIns[other]) {
        if (signal >= inputs && cone[signal - inputs]) {
          cone[other] = true;
        }
      }
    }
    return cone;
  }

  /** Returns the points at which some specified output would be wrong if the slot were inverted. */
  long[] care(int slot, boolean[] cone) {
    long[][] changed = values.clone();
    long[] inverted = spare(slot);
    for (int w = 0; w < words; w++) {
      inverted[w] = ~values[inputs + slot][w];
    }
    changed[inputs + slot] = inverted;
    for (int other : order()) {
      if (cone[other] && other != slot && readsChanged(other, changed)) {
        changed[inputs + other] = spare(other);
        simulate(other, changed);
        if (Arrays.equals(changed[inputs + other], values[inputs + other])) {
          changed[inputs + other] = values[inputs + other];
        }
      }
    }
    long[] care = new long[words];
    for (int o = 0; o < outputs.length; o++) {
      int signal = outputs[o];
      if (signal >= inputs && changed[signal] != values[signal]) {
        for (int w = 0; w < words; w++) {
          care[w] |= (changed[signal][w] ^ specOn[o][w]) & specCare[o][w];
        }
      }
    }
    return care;
  }

  /** Returns words to simulate a slot in beside its values. */
  private long[] spare(int slot) {
    if (flipped[slot] == null) {
      flipped[slot] = new long[words];
    }
    return flipped[slot];
  }

  private boolean readsChanged(int slot, long[][] changed) {
    for (int signal : fanIns[slot]) {
      if (changed[signal] != values[signal]) {
        return true;
      }
    }
    return false;
  }

  /** Returns the values of all signals if some slots had the given values. */
  long[][] valuesWith(int[] slots, long[][] forced) {
    long[][] result = values.clone();
    boolean[] fixed = new boolean[fanIns.length];
    for (int i = 0; i < slots.length; i++) {
      fixed[slots[i]] = true;
      result[inputs + slots[i]] = forced[i];
    }
    for (int other : order()) {
      if (!fixed[other] && readsChanged(other, result)) {
        result[inputs + other] = new long[words];
        simulate(other, result);
      }
    }
    return result;
  }

  /** Returns the points at which every specified output is right. */
  long[] right(long[][] signalValues) {
    long[] right = new long[words];
    Arrays.fill(right, -1L);
    for (int o = 0; o < outputs.length; o++) {
      for (int w = 0; w < words; w++) {
        long value =
            outputs[o] == LutNetwork.ZERO
                ? 0L
                : outputs[o] == LutNetwork.ONE ? -1L : signalValues[outputs[o]][w];
        right[w] &= ~((value ^ specOn[o][w]) & specCare[o][w]);
      }
    }
    return right;
  }

  /** Tells whether every specified output is right everywhere. */
  public boolean isRight() {
    long mask = inputs < 6 ? (1L << (1 << inputs)) - 1 : -1L;
    for (long word : right(values)) {
      if ((word & mask) != mask) {
        return false;
      }
    }
    return true;
  }

  /** Counts how often each slot is read by slots and outputs. */
  int[] fanOuts() {
    int[] count = new int[fanIns.length];
    for (int slot : order()) {
      for (int signal : fanIns[slot]) {
        if (signal >= inputs) {
          count[signal - inputs]++;
        }
      }
    }
    for (int signal : outputs) {
      if (signal >= inputs) {
        count[signal - inputs]++;
      }
    }
    return count;
  }

  /** Empties the slots that nothing reads. */
  void sweep() {
    int[] count = fanOuts();
    int[] sequence = order();
    for (int i = sequence.length - 1; i >= 0; i--) {
      int slot = sequence[i];
      if (count[slot] == 0) {
        for (int signal : fanIns[slot]) {
          if (signal >= inputs) {
            count[signal - inputs]--;
          }
        }
        fanIns[slot] = null;
        tables[slot] = null;
        order = null;
      }
    }
  }

  /** Lets everything that read one signal read another instead; the caller simulates afterwards. */
  void replace(int slot, int signal) {
    int old = inputs + slot;
    for (int other : order()) {
      int[] own = fanIns[other];
      for (int k = 0; k < own.length; k++) {
        if (own[k] == old) {
          own = own.clone();
          own[k] = signal;
          fanIns[other] = own;
        }
      }
    }
    for (int o = 0; o < outputs.length; o++) {
      if (outputs[o] == old) {
        outputs[o] = signal;
      }
    }
    order = null;
  }

  /**
   * A clean network.
   *
   * @param network the network
   * @param signals the signal that a slot became, {@link LutNetwork#ZERO} for one left out
   */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  public record Clean(LutNetwork network, int[] signals) {}

  /** Returns the clean network. */
  public LutNetwork toNetwork(List<String> inputNames, List<String> outputNames) {
    return clean(inputNames, outputNames).network();
  }

  /** Returns the clean network and where its LUTs came from. */
  public Clean clean(List<String> inputNames, List<String> outputNames) {
    LutNetworkBuilder builder = LutNetwork.builder(inputNames);
    int[] signal = new int[fanIns.length];
    Arrays.fill(signal, LutNetwork.ZERO);
    for (int slot : order()) {
      int[] mapped =
          Arrays.stream(fanIns[slot]).map(s -> s < inputs ? s : signal[s - inputs]).toArray();
      long[] all = new long[tables[slot].length];
      Arrays.fill(all, -1L);
      signal[slot] = builder.lut(TruthTable.ofWords(mapped.length, tables[slot], all), mapped);
    }
    for (int o = 0; o < outputs.length; o++) {
      builder.output(
          outputNames.get(o), outputs[o] < inputs ? outputs[o] : signal[outputs[o] - inputs]);
    }
    LutNetwork network = builder.build();
    return new Clean(
        network, Arrays.stream(signal).map(s -> s < 0 ? s : builder.builtSignal(s)).toArray());
  }
}

package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;

/**
 * A LUT network being rewritten, with who reads each signal and its level, but without values: for
 * networks of too many inputs to see all their points.
 *
 * <p>Signals are numbered as in {@link LutNetwork}; a LUT that is gone has no fan-ins array.
 */
final class LinkedLuts {

  final int inputs;
  final int[][] fanIns;
  final long[][] tables;
  final int[] outputs;
  final List<List<Integer>> readers = new ArrayList<>();

  /** How many outputs a signal is. */
  final int[] shown;

  final int[] levels;

  /** The LUTs on the longest path from each to an output. */
  private final int[] behind;

  private final int most;
  private final LutNetwork network;

  LinkedLuts(LutNetwork network) {
    this.network = network;
    this.inputs = network.inputNames().size();
    int luts = network.luts().size();
    this.fanIns = new int[luts][];
    this.tables = new long[luts][];
    this.levels = new int[inputs + luts];
    this.shown = new int[inputs + luts];
    this.behind = new int[luts];
    this.most = network.levels();
    for (int signal = 0; signal < inputs + luts; signal++) {
      readers.add(new ArrayList<>());
      levels[signal] = network.level(signal);
    }
    for (int lut = 0; lut < luts; lut++) {
      fanIns[lut] = network.luts().get(lut).fanIns().stream().mapToInt(s -> s).toArray();
      tables[lut] = network.luts().get(lut).table().onWords();
      read(lut);
    }
    this.outputs = network.outputs().stream().mapToInt(LutNetwork.Output::signal).toArray();
    for (int signal : outputs) {
      if (signal >= 0) {
        shown[signal]++;
      }
    }
    settle();
  }

  boolean isLut(int signal) {
    return signal >= inputs && fanIns[signal - inputs] != null;
  }

  int[] fanInsOf(int signal) {
    return fanIns[signal - inputs];
  }

  /** Tells whether one LUT alone reads a signal. */
  boolean isReadOnce(int signal) {
    return readers.get(signal).size() == 1 && shown[signal] == 0;
  }

  /** Returns the LUTs that are there, each after those that it reads. */
  int[] order() {
    int[] result = new int[fanIns.length];
    boolean[] seen = new boolean[fanIns.length];
    int count = 0;
    for (int lut = 0; lut < fanIns.length; lut++) {
      count = visit(lut, seen, result, count);
    }
    return Arrays.copyOf(result, count);
  }

  private int visit(int lut, boolean[] seen, int[] result, int count) {
    if (fanIns[lut] == null || seen[lut]) {
      return count;
    }
    seen[lut] = true;
    int size = count;
    for (int signal : fanIns[lut]) {
      size = signal < inputs ? size : visit(signal - inputs, seen, result, size);
    }
    result[size++] = lut;
    return size;
  }

  /** Gives a LUT other fan-ins, none of which is later than those it had, and another table. */
  void set(int lut, int[] newFanIns, long[] table) {
    int[] old = fanIns[lut];
    fanIns[lut] = newFanIns;
    tables[lut] = table;
    read(lut);
    unread(lut, old);
  }

  private void read(int lut) {
    for (int signal : fanIns[lut]) {
      readers.get(signal).add(lut);
    }
  }

  private void unread(int lut, int[] signals) {
    for (int signal : signals) {
      readers.get(signal).remove((Integer) lut);
      if (isLut(signal) && readers.get(signal).isEmpty() && shown[signal] == 0) {
        int[] below = fanInsOf(signal);
        fanIns[signal - inputs] = null;
        unread(signal - inputs, below);
      }
    }
  }

  /** Tells which LUTs depend on one, itself included. */
  boolean[] above(int lut) {
    boolean[] above = new boolean[fanIns.length];
    Deque<Integer> open = new ArrayDeque<>(List.of(lut));
    above[lut] = true;
    while (!open.isEmpty()) {
      for (int reader : readers.get(inputs + open.pop())) {
        if (!above[reader]) {
          above[reader] = true;
          open.push(reader);
        }
      }
    }
    return above;
  }

  /** Returns the level that a LUT may have without more levels in all. */
  int required(int lut) {
    return most - behind[lut];
  }

  /** Computes the levels anew. */
  void settle() {
    for (int lut : order()) {
      int level = 0;
      for (int signal : fanIns[lut]) {
        level = Math.max(level, levels[signal]);
      }
      levels[inputs + lut] = level + 1;
    }
    int[] order = order();
    Arrays.fill(behind, 0);
    for (int i = order.length - 1; i >= 0; i--) {
      for (int signal : fanIns[order[i]]) {
        if (signal >= inputs) {
          behind[signal - inputs] = Math.max(behind[signal - inputs], behind[order[i]] + 1);
        }
      }
    }
  }

  /** Returns the network, with inputs and outputs named as they were. */
  LutNetwork network() {
    LutNetworkBuilder builder = LutNetwork.builder(network.inputNames());
    int[] signals = new int[inputs + fanIns.length];
    for (int input = 0; input < inputs; input++) {
      signals[input] = input;
    }
    for (int lut : order()) {
      int[] mapped = Arrays.stream(fanIns[lut]).map(signal -> signals[signal]).toArray();
      long[] all = new long[tables[lut].length];
      Arrays.fill(all, -1L);
      signals[inputs + lut] =
          builder.lut(TruthTable.ofWords(mapped.length, tables[lut], all), mapped);
    }
    for (int i = 0; i < outputs.length; i++) {
      builder.output(
          network.outputs().get(i).name(), outputs[i] < 0 ? outputs[i] : signals[outputs[i]]);
    }
    return builder.build();
  }
}

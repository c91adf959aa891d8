package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.Arrays;

/**
 * Points at which a change of a network is tried before it is kept. They are many, so looks at LUTs
 * do without them: only the cone of a change is simulated, once.
 */
final class Reserve {

  /** The points that are seen after they were against one change. */
  private static final int TAUGHT_AT_ONCE = 16;

  private final EditableNetwork net;
  private final SpecifiedPoints points;
  private final LutSimulator simulator;
  private final int firstColumn;
  private final int columns;
  private final int[][] fanIns;
  private final long[][] tables;
  private final long[][] values;
  private final long[][] spare;
  private int[] taught = new int[TAUGHT_AT_ONCE];
  private int taughtCount;
  private final int[] against = new int[TAUGHT_AT_ONCE];
  private int againstCount;

  /**
   * Prepares for changes.
   *
   * @param net the network, right at all points
   * @param points the points
   * @param firstColumn the first column of the network's own points that does not matter
   */
  Reserve(EditableNetwork net, SpecifiedPoints points, int firstColumn) {
    this.net = net;
    this.points = points;
    this.firstColumn = firstColumn;
    this.columns = Math.max(0, 64 * net.words - firstColumn);
    this.simulator = new LutSimulator(points.words());
    int slots = net.fanIns.length;
    this.fanIns = new int[slots][];
    this.tables = new long[slots][];
    this.spare = new long[slots][];
    this.values = new long[net.inputs + slots][];
    for (int i = 0; i < net.inputs; i++) {
      values[i] = points.inputs()[i];
    }
    for (int slot : net.order()) {
      values[net.inputs + slot] = new long[points.words()];
    }
    if (!agrees()) {
      throw new IllegalStateException(
          "reserve: the network must be right at every point, found a wrong one at " + against[0]);
    }
  }

  /** Tells whether the network as it stands is right at all points. */
  boolean agrees() {
    long[][] now = values.clone();
    for (int slot : net.order()) {
      boolean edited = net.fanIns[slot] != fanIns[slot] || net.tables[slot] != tables[slot];
      if (edited || readsChanged(slot, now)) {
        long[] fresh = spare[slot] == null ? new long[points.words()] : spare[slot];
        spare[slot] = fresh;
        simulator.evaluate(net.tables[slot], net.fanIns[slot], now, fresh);
        if (!Arrays.equals(fresh, values[net.inputs + slot])) {
          now[net.inputs + slot] = fresh;
        }
      }
    }
    if (isWrong(now)) {
      return false;
    }
    for (int slot : net.order()) {
      int signal = net.inputs + slot;
      if (now[signal] != values[signal]) {
        spare[slot] = values[signal];
        values[signal] = now[signal];
      }
      fanIns[slot] = net.fanIns[slot];
      tables[slot] = net.tables[slot];
    }
    return true;
  }

  private boolean readsChanged(int slot, long[][] now) {
    for (int signal : net.fanIns[slot]) {
      if (now[signal] != values[signal]) {
        return true;
      }
    }
    return false;
  }

  private boolean isWrong(long[][] now) {
    againstCount = 0;
    for (int o = 0; o < net.outputs.length; o++) {
      int signal = net.outputs[o];
      long[] on = points.on()[o];
      long[] care = points.care()[o];
      for (int w = 0; w < care.length && againstCount < TAUGHT_AT_ONCE; w++) {
        long value = signal == LutNetwork.ZERO ? 0 : signal == LutNetwork.ONE ? -1 : now[signal][w];
        long wrong = (value ^ on[w]) & care[w];
        if (wrong != 0) {
          against[againstCount++] = 64 * w + Long.numberOfTrailingZeros(wrong);
        }
      }
    }
    return againstCount > 0;
  }

  /** Lets the network see points that were against the last change; it is what it was before. */
  void teach() {
    for (int i = 0; i < againstCount && columns > 0; i++) {
      int point = against[i];
      boolean[] signals = new boolean[values.length];
      for (int s = 0; s < signals.length; s++) {
        signals[s] = values[s] != null && bit(values[s], point);
      }
      boolean[] on = new boolean[points.on().length];
      boolean[] care = new boolean[on.length];
      for (int o = 0; o < on.length; o++) {
        on[o] = bit(points.on()[o], point);
        care[o] = bit(points.care()[o], point);
      }
      net.see(firstColumn + taughtCount % columns, signals, on, care);
      if (taughtCount == taught.length) {
        taught = Arrays.copyOf(taught, 2 * taughtCount);
      }
      taught[taughtCount++] = point;
    }
  }

  private static boolean bit(long[] words, int point) {
    return (words[point >> 6] >>> point & 1) != 0;
  }

  /** Returns the points taught that later ones have not replaced. */
  int[] taught() {
    return Arrays.copyOfRange(taught, Math.max(0, taughtCount - columns), taughtCount);
  }
}

package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Shrinks a network of any size by the don't-cares that the neighbourhood of each LUT tells.
 *
 * <p>A LUT drops a fan-in, or reads an earlier signal instead of a LUT that only it reads, where
 * its ones and zeros can still be told apart at the points that matter; then LUTs that fit into
 * their only reader are put there. No step adds a LUT or a level.
 */
public final class LocalDontCares {

  private static final int ROUNDS = 3;

  private static final long[] ZEROS = new long[4];

  private final LinkedLuts luts;
  private final int lutInputs;
  private final int words;
  private final Distinguishable split;

  private LocalDontCares(LutNetwork network, int lutInputs) {
    this.luts = new LinkedLuts(network);
    this.lutInputs = lutInputs;
    this.words = CareWindow.words(network.luts().size());
    this.split = new Distinguishable(words, LutNetwork.MOST_FAN_INS + 1);
  }

  /**
   * Shrinks a network.
   *
   * @param network the network
   * @param lutInputs the inputs of a LUT
   * @return a network of the same inputs, outputs and functions
   */
  public static LutNetwork shrink(LutNetwork network, int lutInputs) {
    LutNetwork best = network;
    for (int round = 0; round < ROUNDS; round++) {
      LocalDontCares walk = new LocalDontCares(best, lutInputs);
      walk.round();
      LutNetwork next = walk.luts.network();
      if (next.luts().size() >= best.luts().size()) {
        break;
      }
      best = next;
    }
    return best;
  }

  private void round() {
    int[] order = luts.order();
    for (int i = order.length - 1; i >= 0; i--) {
      Work.check();
      if (luts.fanIns[order[i]] != null) {
        improve(order[i]);
      }
    }
    for (int lut : luts.order()) {
      if (luts.fanIns[lut] != null) {
        join(lut);
      }
    }
  }

  private void improve(int lut) {
    CareWindow window = CareWindow.of(luts, lut);
    if (window == null) {
      return;
    }
    long[] value = window.value(luts.inputs + lut);
    long[] on = new long[words];
    long[] off = new long[words];
    for (int w = 0; w < on.length; w++) {
      on[w] = value[w] & window.care()[w];
      off[w] = ~value[w] & window.care()[w];
    }
    boolean changed = false;
    for (int signal : luts.fanIns[lut].clone()) {
      changed |= reads(lut, window, on, off, without(luts.fanIns[lut], signal));
    }
    if (changed) {
      luts.settle();
    }
    for (int signal : luts.fanIns[lut].clone()) {
      if (luts.isLut(signal) && luts.isReadOnce(signal) && exchange(lut, window, on, off, signal)) {
        luts.settle();
        return;
      }
    }
  }

  private static int[] without(int[] signals, int signal) {
    return Arrays.stream(signals).filter(own -> own != signal).toArray();
  }

  /** Lets a LUT read an earlier signal of the window instead of a fan-in. */
  private boolean exchange(int lut, CareWindow window, long[] on, long[] off, int signal) {
    int[] rest = without(luts.fanIns[lut], signal);
    boolean[] above = luts.above(lut);
    for (int other : window.before(luts.required(lut))) {
      boolean depends = other >= luts.inputs && above[other - luts.inputs];
      if (other != signal && !depends && !FanIns.contains(rest, other)) {
        int[] next = Arrays.copyOf(rest, rest.length + 1);
        next[rest.length] = other;
        if (reads(lut, window, on, off, next)) {
          return true;
        }
      }
    }
    return false;
  }

  /** Lets a LUT read some signals, if they tell its ones from its zeros. */
  private boolean reads(int lut, CareWindow window, long[] on, long[] off, int[] signals) {
    long[][] chosen = new long[signals.length][];
    for (int i = 0; i < signals.length; i++) {
      chosen[i] = window.value(signals[i]);
    }
    if (!split.separates(on, off, chosen, signals.length)) {
      return false;
    }
    luts.set(lut, signals, split.table(on, off, chosen, signals.length, ZEROS));
    return true;
  }

  /** Puts a LUT into the only one that reads it, if that has room. */
  private void join(int lut) {
    int signal = luts.inputs + lut;
    if (!luts.isReadOnce(signal)) {
      return;
    }
    int reader = luts.readers.get(signal).get(0);
    List<Integer> all = new ArrayList<>();
    Arrays.stream(luts.fanIns[reader]).filter(own -> own != signal).forEach(all::add);
    Arrays.stream(luts.fanIns[lut]).filter(own -> !all.contains(own)).forEach(all::add);
    if (all.size() > lutInputs) {
      return;
    }
    long[] table = new long[Math.max(1, 1 << all.size() >> 6)];
    for (int point = 0; point < 1 << all.size(); point++) {
      boolean inner = at(lut, all, point, -1, false);
      if (at(reader, all, point, signal, inner)) {
        table[point >> 6] |= 1L << point;
      }
    }
    luts.set(reader, all.stream().mapToInt(own -> own).toArray(), table);
  }

  private boolean at(int lut, List<Integer> all, int point, int known, boolean value) {
    int index = 0;
    int[] own = luts.fanIns[lut];
    for (int i = 0; i < own.length; i++) {
      boolean one = own[i] == known ? value : (point >> all.indexOf(own[i]) & 1) != 0;
      index |= one ? 1 << i : 0;
    }
    return (luts.tables[lut][index >> 6] >>> index & 1) != 0;
  }
}

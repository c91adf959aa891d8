package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Shrinks a network by expressing LUTs through other signals, with exact don't-cares.
 *
 * <p>A step picks a LUT and the points at which its value matters, then drops a fan-in, or swaps
 * one for another signal, whenever the fan-ins still tell its ones from its zeros. A swap that
 * frees no LUT is taken too: it walks the plateau of equal networks, from which others free one.
 * The number of LUTs never grows.
 */
public final class Resubstitution {

  private final EditableNetwork net;
  private final int mostFanIns;
  private final int mostLevels;
  private final SplittableRandom random;
  private final Distinguishable split;
  private final long[][] chosen;

  private final PointPairs pairs;

  public Resubstitution(
      EditableNetwork net, int mostFanIns, int mostLevels, SplittableRandom random) {
    this.net = net;
    this.mostFanIns = mostFanIns;
    this.mostLevels = mostLevels;
    this.random = random;
    this.split = new Distinguishable(net.words, LutNetwork.MOST_FAN_INS + 1);
    this.pairs = new PointPairs(net, split);
    this.chosen = new long[LutNetwork.MOST_FAN_INS + 1][];
  }

  public void run(int steps) {
    for (int i = 0; i < steps && net.size() > 0; i++) {
      Work.check();
      int[] order = net.order();
      step(order[random.nextInt(order.length)]);
    }
  }

  private void step(int slot) {
    boolean[] cone = net.fanOutCone(slot);
    long[] care = net.care(slot, cone);
    long[] value = net.values[net.inputs + slot];
    long[] on = new long[net.words];
    long[] off = new long[net.words];
    for (int w = 0; w < net.words; w++) {
      on[w] = value[w] & care[w];
      off[w] = ~value[w] & care[w];
    }
    int[] signals = candidates(slot, cone);
    if (replaceWhole(slot, on, off, signals) || dropFanIn(slot, on, off)) {
      return;
    }
    swapFanIn(slot, on, off, signals);
  }

  /** Returns the signals the slot may read without a loop or too many levels, in random order. */
  private int[] candidates(int slot, boolean[] cone) {
    int[] levels = net.levels();
    int most = mostLevels - 1 - net.heights()[slot];
    int[] result = new int[net.inputs + net.size()];
    int count = 0;
    for (int i = 0; i < net.inputs; i++) {
      result[count++] = i;
    }
    for (int other : net.order()) {
      if (!cone[other] && levels[other] <= most) {
        result[count++] = net.inputs + other;
      }
    }
    for (int i = count - 1; i > 0; i--) {
      int j = random.nextInt(i + 1);
      int swap = result[i];
      result[i] = result[j];
      result[j] = swap;
    }
    return Arrays.copyOf(result, count);
  }

  private boolean replaceWhole(int slot, long[] on, long[] off, int[] signals) {
    for (int signal : signals) {
      long[] value = net.values[signal];
      boolean same = true;
      for (int w = 0; w < net.words && same; w++) {
        same = (on[w] & ~value[w]) == 0 && (off[w] & value[w]) == 0;
      }
      if (same) {
        net.replace(slot, signal);
        net.sweep();
        net.simulate();
        return true;
      }
    }
    return false;
  }

  private boolean dropFanIn(int slot, long[] on, long[] off) {
    int[] own = net.fanIns[slot];
    int first = own.length == 0 ? 0 : random.nextInt(own.length);
    for (int i = 0; i < own.length; i++) {
      int[] rest = FanIns.without(own, (first + i) % own.length);
      load(rest);
      if (split.separates(on, off, chosen, rest.length)) {
        accept(slot, on, off, rest);
        return true;
      }
    }
    return false;
  }

  private void swapFanIn(int slot, long[] on, long[] off, int[] signals) {
    int[] own = net.fanIns[slot];
    if (own.length == 0) {
      return;
    }
    int out = late(slot, random.nextInt(own.length));
    int[] rest = FanIns.without(own, out);
    int[] wider = Arrays.copyOf(rest, rest.length + 1);
    load(rest);
    pairs.clear();
    if (!split.separates(on, off, chosen, rest.length)) {
      pairs.note();
    }
    for (int signal : signals) {
      if (FanIns.contains(own, signal) || !pairs.areToldApartBy(signal)) {
        continue;
      }
      wider[rest.length] = signal;
      load(wider);
      if (split.separates(on, off, chosen, wider.length)) {
        accept(slot, on, off, wider);
        return;
      }
      pairs.note();
    }
    if (rest.length + 2 <= mostFanIns
        && own[out] >= net.inputs
        && net.fanOuts()[own[out] - net.inputs] == 1) {
      int removed = own[out];
      swapForTwo(
          slot,
          on,
          off,
          rest,
          Arrays.stream(signals).filter(s -> s != removed && !FanIns.contains(rest, s)).toArray());
    }
  }

  /** Returns the next fan-in from a place on that is too late for the bound, or else the place. */
  private int late(int slot, int from) {
    int[] own = net.fanIns[slot];
    int[] levels = net.levels();
    int most = mostLevels - 1 - net.heights()[slot];
    for (int i = 0; i < own.length; i++) {
      int k = (from + i) % own.length;
      if (own[k] >= net.inputs && levels[own[k] - net.inputs] > most) {
        return k;
      }
    }
    return from;
  }

  /** Trades a LUT that nothing else reads for two other signals. */
  private void swapForTwo(int slot, long[] on, long[] off, int[] rest, int[] usable) {
    long[] told = Arrays.stream(usable).mapToLong(pairs::toldApart).toArray();
    int[] wider = Arrays.copyOf(rest, rest.length + 2);
    for (int i = 0; i < usable.length; i++) {
      for (int j = i + 1; j < usable.length; j++) {
        if ((told[i] | told[j]) != pairs.all()) {
          continue;
        }
        wider[rest.length] = usable[i];
        wider[rest.length + 1] = usable[j];
        load(wider);
        if (split.separates(on, off, chosen, wider.length)) {
          accept(slot, on, off, wider);
          return;
        }
        if (pairs.note()) {
          for (int k = 0; k < usable.length; k++) {
            told[k] |= pairs.lastToldApart(usable[k]);
          }
        }
      }
    }
  }

  private void accept(int slot, long[] on, long[] off, int[] signals) {
    load(signals);
    long[] fill = new long[4];
    for (int i = 0; i < fill.length; i++) {
      fill[i] = random.nextLong();
    }
    net.set(slot, signals, split.table(on, off, chosen, signals.length, fill));
    net.sweep();
    net.simulate();
  }

  private void load(int[] signals) {
    for (int i = 0; i < signals.length; i++) {
      chosen[i] = net.values[signals[i]];
    }
  }
}

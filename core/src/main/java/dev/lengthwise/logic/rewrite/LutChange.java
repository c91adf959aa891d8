package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * A LUT that a walk looks at: the points at which its value matters, the signals that it may read,
 * and the changes that every walk tries first. Don't-cares are exact at the points simulated.
 */
final class LutChange {

  private final EditableNetwork net;
  private final int mostLevels;
  private final SplittableRandom random;
  private final Distinguishable split;
  private final PointPairs pairs;
  private final long[][] chosen = new long[LutNetwork.MOST_FAN_INS + 2][];
  private final long[] on;
  private final long[] off;
  private int slot;

  /**
   * Prepares for looks at LUTs.
   *
   * @param net what to rewrite
   * @param mostLevels the levels that no change may lead beyond
   * @param random what the draws come from
   */
  LutChange(EditableNetwork net, int mostLevels, SplittableRandom random) {
    this.net = net;
    this.mostLevels = mostLevels;
    this.random = random;
    this.split = new Distinguishable(net.words, LutNetwork.MOST_FAN_INS + 2);
    this.pairs = new PointPairs(net, split);
    this.on = new long[net.words];
    this.off = new long[net.words];
  }

  /** Looks at the LUT of a slot, and returns the signals that it may read. */
  int[] look(int looked) {
    slot = looked;
    boolean[] cone = net.fanOutCone(slot);
    long[] care = net.care(slot, cone);
    long[] value = net.values[net.inputs + slot];
    for (int w = 0; w < net.words; w++) {
      on[w] = value[w] & care[w];
      off[w] = ~value[w] & care[w];
    }
    return candidates(cone);
  }

  /** Returns the signals that lead to no loop and not to too many levels. */
  private int[] candidates(boolean[] cone) {
    int[] levels = net.levels();
    int most = latestFanIn();
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
    return Arrays.copyOf(result, count);
  }

  /** Returns the highest level that a fan-in may have within the bound. */
  int latestFanIn() {
    return mostLevels - 1 - net.heights()[slot];
  }

  int[] fanIns() {
    return net.fanIns[slot];
  }

  /** Returns the pairs of points that the last tests failed on. */
  PointPairs pairs() {
    return pairs;
  }

  /** Lets all readers read the first signal that does for the LUT; false if there is none. */
  boolean replaceWhole(int[] signals) {
    for (int signal : signals) {
      long[] value = net.values[signal];
      boolean same = true;
      for (int w = 0; w < net.words && same; w++) {
        same = (on[w] & ~value[w]) == 0 && (off[w] & value[w]) == 0;
      }
      if (same) {
        EditableNetwork.Saved before = net.save();
        net.replace(slot, signal);
        net.sweep();
        net.simulate();
        net.keep(before);
        return true;
      }
    }
    return false;
  }

  /**
   * Drops the first fan-in, from one drawn on, that the LUT does without; false if there is none.
   */
  boolean dropFanIn() {
    int[] own = fanIns();
    int first = own.length == 0 ? 0 : random.nextInt(own.length);
    for (int i = 0; i < own.length; i++) {
      if (read(FanIns.without(own, (first + i) % own.length))) {
        return true;
      }
    }
    return false;
  }

  /**
   * Lets the LUT read these signals if they tell its ones from its zeros at the points seen.
   *
   * @return whether they do: the look is over then, also where a point in reserve was against it
   */
  boolean read(int[] signals) {
    for (int i = 0; i < signals.length; i++) {
      chosen[i] = net.values[signals[i]];
    }
    if (!split.separates(on, off, chosen, signals.length)) {
      return false;
    }
    long[] fill = new long[4];
    for (int i = 0; i < fill.length; i++) {
      fill[i] = random.nextLong();
    }
    EditableNetwork.Saved before = net.save();
    net.set(slot, signals, split.table(on, off, chosen, signals.length, fill));
    net.sweep();
    net.simulateFrom(slot);
    net.keep(before);
    return true;
  }
}

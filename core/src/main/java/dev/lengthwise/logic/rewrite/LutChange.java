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
  private final int mostDelay;
  private final SplittableRandom random;
  private final Distinguishable split;
  private final PointPairs pairs;
  private final long[][] chosen = new long[LutNetwork.MOST_FAN_INS + 2][];
  private final long[] on;
  private final long[] off;
  private Timing timing;
  private int slot;

  /**
   * Prepares for looks at LUTs.
   *
   * @param net what to rewrite
   * @param mostDelay the delay that no change may lead beyond
   * @param random what the draws come from
   */
  LutChange(EditableNetwork net, int mostDelay, SplittableRandom random) {
    this.net = net;
    this.mostDelay = mostDelay;
    this.timing = Timing.of(net);
    this.random = random;
    this.split = new Distinguishable(net.words, LutNetwork.MOST_FAN_INS + 2);
    this.pairs = new PointPairs(net, split);
    this.on = new long[net.words];
    this.off = new long[net.words];
  }

  /** Looks at the LUT of a slot, and returns the signals that it may read. */
  int[] look(int looked) {
    slot = looked;
    timing = Timing.of(net);
    boolean[] cone = net.fanOutCone(slot);
    long[] care = net.care(slot, cone);
    long[] value = net.values[net.inputs + slot];
    for (int w = 0; w < net.words; w++) {
      on[w] = value[w] & care[w];
      off[w] = ~value[w] & care[w];
    }
    return candidates(cone);
  }

  /** Returns the signals that lead to no loop and not to too much delay. */
  private int[] candidates(boolean[] cone) {
    int[] result = new int[net.inputs + net.size()];
    int count = 0;
    for (int i = 0; i < net.inputs; i++) {
      if (!isLate(i)) {
        result[count++] = i;
      }
    }
    for (int other : net.order()) {
      if (!cone[other] && !isLate(net.inputs + other)) {
        result[count++] = net.inputs + other;
      }
    }
    return Arrays.copyOf(result, count);
  }

  /** Tells whether a signal is too late for the LUT within the bound, by the fastest way. */
  boolean isLate(int signal) {
    int at = timing.read(signal);
    return at > 0 && at + net.delays().fastest() + timing.behind(slot) > mostDelay;
  }

  /** Tells whether a LUT of these signals is later than the bound, and than it is now. */
  private boolean isLate(int[] signals) {
    int most = Math.max(mostDelay - timing.behind(slot), timing.time(slot));
    return !net.delays().isUniform() && timing.lut(signals) > most;
  }

  /** Keeps a change unless it is wrong, or signals with more readers are too late by it. */
  private void keep(EditableNetwork.Saved before) {
    if (!net.delays().isUniform() && Timing.of(net).delay() > Math.max(mostDelay, timing.delay())) {
      net.restore(before);
    } else {
      net.keep(before);
    }
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
        keep(before);
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
   * @return whether they do, in time: the look is over then, also where a point in reserve was
   *     against it
   */
  boolean read(int[] signals) {
    for (int i = 0; i < signals.length; i++) {
      chosen[i] = net.values[signals[i]];
    }
    if (isLate(signals) || !split.separates(on, off, chosen, signals.length)) {
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
    keep(before);
    return true;
  }
}

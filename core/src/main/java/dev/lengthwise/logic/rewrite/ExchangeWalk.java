package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Walks the plateau of equal networks by exchanges that may widen a LUT: one or two of its fan-ins
 * go, one or two signals come, whenever those left still tell its ones from its zeros.
 *
 * <p>What is narrow for good never frees another LUT, so unused inputs have to carry the walk. The
 * number of LUTs never grows. Don't-cares are exact at the points simulated.
 */
public final class ExchangeWalk {

  /** The exchanges tried at a LUT for one look at where its value matters. */
  private static final int TRIES = 4;

  private final EditableNetwork net;
  private final int lutInputs;
  private final int mostLevels;
  private final SplittableRandom random;
  private final Distinguishable split;
  private final long[][] chosen = new long[LutNetwork.MOST_FAN_INS + 2][];
  private final long[] on;
  private final long[] off;
  private final PointPairs pairs;

  /**
   * Prepares a walk.
   *
   * @param net what to rewrite
   * @param lutInputs the inputs of a LUT
   * @param mostLevels the levels that no step may lead beyond
   * @param random what the draws come from
   */
  public ExchangeWalk(EditableNetwork net, int lutInputs, int mostLevels, SplittableRandom random) {
    this.net = net;
    this.lutInputs = lutInputs;
    this.mostLevels = mostLevels;
    this.random = random;
    this.split = new Distinguishable(net.words, LutNetwork.MOST_FAN_INS + 2);
    this.pairs = new PointPairs(net, split);
    this.on = new long[net.words];
    this.off = new long[net.words];
  }

  /**
   * Walks on.
   *
   * @param steps the exchanges to try
   */
  public void run(int steps) {
    for (int i = 0; i < steps && net.size() > 0; i += TRIES) {
      Work.check();
      int[] order = net.order();
      look(order[random.nextInt(order.length)]);
    }
  }

  private void look(int slot) {
    boolean[] cone = net.fanOutCone(slot);
    long[] care = net.care(slot, cone);
    long[] value = net.values[net.inputs + slot];
    for (int w = 0; w < net.words; w++) {
      on[w] = value[w] & care[w];
      off[w] = ~value[w] & care[w];
    }
    int[] signals = candidates(slot, cone);
    if (replaceWhole(slot, signals) || dropFanIn(slot)) {
      return;
    }
    for (int i = 0; i < TRIES; i++) {
      if (exchange(slot, signals)) {
        return;
      }
    }
  }

  /** Returns the signals that the slot may read without a loop or too many levels. */
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
    return Arrays.copyOf(result, count);
  }

  private boolean replaceWhole(int slot, int[] signals) {
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

  private boolean dropFanIn(int slot) {
    int[] own = net.fanIns[slot];
    int first = own.length == 0 ? 0 : random.nextInt(own.length);
    for (int i = 0; i < own.length; i++) {
      int[] rest = FanIns.without(own, (first + i) % own.length);
      if (separates(rest)) {
        accept(slot, rest);
        return true;
      }
    }
    return false;
  }

  private boolean exchange(int slot, int[] signals) {
    int[] own = net.fanIns[slot];
    if (own.length == 0) {
      return false;
    }
    int[] rest = FanIns.without(own, random.nextInt(own.length));
    if (rest.length > 0 && random.nextInt(3) == 0) {
      rest = FanIns.without(rest, random.nextInt(rest.length));
    }
    pairs.clear();
    if (separates(rest)) {
      accept(slot, rest);
      return true;
    }
    pairs.note();
    boolean two = rest.length + 2 <= lutInputs && random.nextBoolean();
    return two ? takeTwo(slot, own, rest, signals) : takeOne(slot, own, rest, signals);
  }

  private boolean takeOne(int slot, int[] own, int[] rest, int[] signals) {
    int[] wider = Arrays.copyOf(rest, rest.length + 1);
    int first = random.nextInt(signals.length);
    for (int i = 0; i < signals.length; i++) {
      int signal = signals[(first + i) % signals.length];
      if (FanIns.contains(own, signal) || !pairs.areToldApartBy(signal)) {
        continue;
      }
      wider[rest.length] = signal;
      if (separates(wider)) {
        accept(slot, wider);
        return true;
      }
      pairs.note();
    }
    return false;
  }

  private boolean takeTwo(int slot, int[] own, int[] rest, int[] signals) {
    int[] usable = new int[signals.length];
    long[] told = new long[signals.length];
    int count = 0;
    int first = random.nextInt(signals.length);
    for (int i = 0; i < signals.length; i++) {
      int signal = signals[(first + i) % signals.length];
      if (!FanIns.contains(rest, signal)) {
        usable[count] = signal;
        told[count++] = pairs.toldApart(signal);
      }
    }
    int[] wider = Arrays.copyOf(rest, rest.length + 2);
    int stride = 1 + random.nextInt(Math.max(1, count - 1));
    for (int d = 0; d < count - 1; d++) {
      int apart = 1 + (stride + d) % (count - 1);
      for (int i = 0; i + apart < count; i++) {
        int j = i + apart;
        if ((told[i] | told[j]) != pairs.all()
            || FanIns.contains(own, usable[i]) && FanIns.contains(own, usable[j])) {
          continue;
        }
        wider[rest.length] = usable[i];
        wider[rest.length + 1] = usable[j];
        if (separates(wider)) {
          accept(slot, wider);
          return true;
        }
        if (pairs.note()) {
          for (int k = 0; k < count; k++) {
            told[k] |= pairs.lastToldApart(usable[k]);
          }
        }
      }
    }
    return false;
  }

  private boolean separates(int[] signals) {
    load(signals);
    return split.separates(on, off, chosen, signals.length);
  }

  private void accept(int slot, int[] signals) {
    load(signals);
    long[] fill = new long[4];
    for (int i = 0; i < fill.length; i++) {
      fill[i] = random.nextLong();
    }
    net.set(slot, signals, split.table(on, off, chosen, signals.length, fill));
    net.sweep();
    net.simulateFrom(slot);
  }

  private void load(int[] signals) {
    for (int i = 0; i < signals.length; i++) {
      chosen[i] = net.values[signals[i]];
    }
  }
}

package dev.lengthwise.logic.rewrite;

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
  private final SplittableRandom random;
  private final LutChange change;

  /**
   * Prepares a walk.
   *
   * @param net what to rewrite
   * @param mostFanIns the inputs of a LUT
   * @param mostDelay the delay that no step may lead beyond, as the network's model counts it
   * @param random what the draws come from
   */
  public Resubstitution(
      EditableNetwork net, int mostFanIns, int mostDelay, SplittableRandom random) {
    this.net = net;
    this.mostFanIns = mostFanIns;
    this.random = random;
    this.change = new LutChange(net, mostDelay, random);
  }

  /**
   * Walks on.
   *
   * @param steps the LUTs to look at
   */
  public void run(int steps) {
    for (int i = 0; i < steps && net.size() > 0; i++) {
      Work.check();
      int[] order = net.order();
      step(order[random.nextInt(order.length)]);
    }
  }

  private void step(int slot) {
    int[] signals = shuffled(change.look(slot));
    if (!change.replaceWhole(signals) && !change.dropFanIn() && change.fanIns().length > 0) {
      swapFanIn(signals);
    }
  }

  private int[] shuffled(int[] signals) {
    for (int i = signals.length - 1; i > 0; i--) {
      int j = random.nextInt(i + 1);
      int swap = signals[i];
      signals[i] = signals[j];
      signals[j] = swap;
    }
    return signals;
  }

  private void swapFanIn(int[] signals) {
    int[] own = change.fanIns();
    int out = late(random.nextInt(own.length));
    int[] rest = FanIns.without(own, out);
    int[] wider = Arrays.copyOf(rest, rest.length + 1);
    PointPairs pairs = change.pairs();
    pairs.clear();
    if (change.read(rest)) {
      return;
    }
    pairs.note();
    for (int signal : signals) {
      if (FanIns.contains(own, signal) || !pairs.areToldApartBy(signal)) {
        continue;
      }
      wider[rest.length] = signal;
      if (change.read(wider)) {
        return;
      }
      pairs.note();
    }
    if (rest.length + 2 <= mostFanIns
        && own[out] >= net.inputs
        && net.fanOuts()[own[out] - net.inputs] == 1) {
      int removed = own[out];
      swapForTwo(
          rest,
          Arrays.stream(signals).filter(s -> s != removed && !FanIns.contains(rest, s)).toArray());
    }
  }

  /** Returns the next fan-in from a place on that is too late for the bound, or else the place. */
  private int late(int from) {
    int[] own = change.fanIns();
    for (int i = 0; i < own.length; i++) {
      int k = (from + i) % own.length;
      if (change.isLate(own[k])) {
        return k;
      }
    }
    return from;
  }

  /** Trades a LUT that nothing else reads for two other signals. */
  private void swapForTwo(int[] rest, int[] usable) {
    PointPairs pairs = change.pairs();
    long[] told = Arrays.stream(usable).mapToLong(pairs::toldApart).toArray();
    int[] wider = Arrays.copyOf(rest, rest.length + 2);
    for (int i = 0; i < usable.length; i++) {
      for (int j = i + 1; j < usable.length; j++) {
        if ((told[i] | told[j]) != pairs.all()) {
          continue;
        }
        wider[rest.length] = usable[i];
        wider[rest.length + 1] = usable[j];
        if (change.read(wider)) {
          return;
        }
        if (pairs.note()) {
          pairs.addLast(told, usable, usable.length);
        }
      }
    }
  }
}

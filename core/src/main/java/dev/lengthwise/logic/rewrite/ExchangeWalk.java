package dev.lengthwise.logic.rewrite;

import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Walks the plateau of equal networks by exchanges that may widen a LUT: one or two of its fan-ins
 * go, one or two signals come, whenever those left still tell its ones from its zeros.
 *
 * <p>What is narrow for good never frees another LUT, so unused inputs have to carry the walk. The
 * number of LUTs never grows.
 */
public final class ExchangeWalk {

  /** The exchanges tried at a LUT for one look at where its value matters. */
  private static final int TRIES = 12;

  private final EditableNetwork net;
  private final int lutInputs;
  private final SplittableRandom random;
  private final LutChange change;
  private int[] fanOuts = new int[0];

  /**
   * Prepares a walk.
   *
   * @param net what to rewrite
   * @param lutInputs the inputs of a LUT
   * @param mostDelay the delay that no step may lead beyond, as the network's model counts it
   * @param random what the draws come from
   */
  public ExchangeWalk(EditableNetwork net, int lutInputs, int mostDelay, SplittableRandom random) {
    this.net = net;
    this.lutInputs = lutInputs;
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
      look(order[random.nextInt(order.length)]);
    }
  }

  private void look(int slot) {
    int[] signals = change.look(slot);
    fanOuts = net.fanOuts();
    boolean changed = change.replaceWhole(signals) || change.dropFanIn();
    // Where every signal is too late there is none to take.
    int tries = signals.length == 0 ? 0 : TRIES;
    for (int i = 0; i < tries && !changed && change.fanIns().length > 0; i++) {
      changed = exchange(signals);
    }
  }

  private boolean exchange(int[] signals) {
    int[] own = change.fanIns();
    int[] rest = FanIns.without(own, leaving(own));
    if (rest.length > 0 && random.nextInt(3) == 0) {
      rest = FanIns.without(rest, random.nextInt(rest.length));
    }
    change.pairs().clear();
    if (change.read(rest)) {
      return true;
    }
    change.pairs().note();
    if (rest.length + 2 > lutInputs || random.nextBoolean()) {
      return takeOne(own, rest, signals);
    }
    boolean three = rest.length + 3 <= lutInputs && random.nextInt(4) == 0;
    return takeTwo(own, three ? with(rest, signals) : rest, signals);
  }

  /** Adds a signal drawn at random, for what needs three at once. */
  private int[] with(int[] rest, int[] signals) {
    int signal = signals[random.nextInt(signals.length)];
    if (FanIns.contains(rest, signal)) {
      return rest;
    }
    int[] wider = Arrays.copyOf(rest, rest.length + 1);
    wider[rest.length] = signal;
    return wider;
  }

  /** Draws the fan-in that goes: often that which the fewest read, as it may so be freed. */
  private int leaving(int[] own) {
    int at = random.nextInt(own.length);
    if (random.nextBoolean()) {
      return at;
    }
    int leaving = at;
    for (int i = 1; i < own.length; i++) {
      int k = (at + i) % own.length;
      leaving = readers(own[k]) < readers(own[leaving]) ? k : leaving;
    }
    return leaving;
  }

  private int readers(int signal) {
    return signal < net.inputs ? Integer.MAX_VALUE : fanOuts[signal - net.inputs];
  }

  private boolean takeOne(int[] own, int[] rest, int[] signals) {
    PointPairs pairs = change.pairs();
    int[] wider = Arrays.copyOf(rest, rest.length + 1);
    int first = random.nextInt(signals.length);
    for (int i = 0; i < signals.length; i++) {
      int signal = signals[(first + i) % signals.length];
      if (FanIns.contains(own, signal) || !pairs.areToldApartBy(signal)) {
        continue;
      }
      wider[rest.length] = signal;
      if (change.read(wider)) {
        return true;
      }
      pairs.note();
    }
    return false;
  }

  private boolean takeTwo(int[] own, int[] rest, int[] signals) {
    PointPairs pairs = change.pairs();
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
        if (change.read(wider)) {
          return true;
        }
        if (pairs.note()) {
          pairs.addLast(told, usable, count);
        }
      }
    }
    return false;
  }
}

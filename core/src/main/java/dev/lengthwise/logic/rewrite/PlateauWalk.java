package dev.lengthwise.logic.rewrite;

import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.SplittableRandom;

/**
 * Walks among networks that are right at the points simulated, to ones of fewer LUTs: by {@link
 * ExchangeWalk}, which trades fan-ins, and {@link WindowSearch}, which trades whole LUTs.
 */
public final class PlateauWalk {

  /** The LUTs looked at to each window. */
  private static final int STEPS_A_WINDOW = 20;

  /** The most LUTs of a window. */
  private static final int MOST_WINDOW = 4;

  /** The wirings tried for a window. */
  private static final int WIRINGS = 4;

  private final EditableNetwork net;
  private final int lutInputs;
  private final int mostDelay;
  private final SplittableRandom random;

  /**
   * Prepares a walk.
   *
   * @param net what to rewrite
   * @param lutInputs the inputs of a LUT
   * @param mostDelay the delay that no step may lead beyond, as the network's model counts it
   * @param random what the draws come from
   */
  public PlateauWalk(EditableNetwork net, int lutInputs, int mostDelay, SplittableRandom random) {
    this.net = net;
    this.lutInputs = lutInputs;
    this.mostDelay = mostDelay;
    this.random = random;
  }

  /**
   * Walks on.
   *
   * @param steps the LUTs to look at
   */
  public void run(int steps) {
    // Pressing for a level less now and then frees what hangs on the longest paths.
    int level = net.delays().level();
    int bound = Math.max(level, mostDelay - random.nextInt(2) * level);
    new ExchangeWalk(net, lutInputs, bound, random).run(steps);
    WindowSearch windows = new WindowSearch(net, lutInputs, mostDelay, random);
    for (int i = 0; i < steps && net.size() > 0; i += STEPS_A_WINDOW) {
      Work.check();
      windows.step(2 + random.nextInt(MOST_WINDOW - 1), WIRINGS);
    }
  }

  /**
   * Doubles some LUTs that are read more than once, and lets their readers part: LUTs in surplus,
   * from which a walk may find down elsewhere.
   *
   * @param luts how many to double, as far as the network has room
   */
  public void duplicate(int luts) {
    for (int i = 0; i < luts && net.freeSlot() >= 0; i++) {
      int[] fanOuts = net.fanOuts();
      int[] shared = Arrays.stream(net.order()).filter(slot -> fanOuts[slot] > 1).toArray();
      if (shared.length == 0) {
        return;
      }
      int slot = shared[random.nextInt(shared.length)];
      int twin = net.freeSlot();
      EditableNetwork.Saved before = net.save();
      net.set(twin, net.fanIns[slot], net.tables[slot]);
      part(slot, twin);
      net.sweep();
      net.simulate();
      net.keep(before);
    }
  }

  /**
   * Lets the first reader of a LUT read its twin, the second stay, and others do as a coin says.
   */
  private void part(int slot, int twin) {
    int seen = 0;
    for (int reader : net.order()) {
      int[] fanIns = net.fanIns[reader];
      for (int k = 0; k < fanIns.length; k++) {
        if (fanIns[k] == net.inputs + slot) {
          seen++;
          if (seen == 1 || seen > 2 && random.nextBoolean()) {
            int[] parted = fanIns.clone();
            parted[k] = net.inputs + twin;
            net.set(reader, parted, net.tables[reader]);
          }
        }
      }
    }
  }
}

package dev.lengthwise.logic.exact;

import dev.lengthwise.logic.network.LutNetwork;

/**
 * The wiring of a LUT network without the tables: what {@link RelationSynthesis} fills in.
 *
 * <p>Signals are numbered as in {@link LutNetwork}: sources first, then nodes. A node reads signals
 * smaller than its own number. At most 24 sources and 6 outputs.
 */
public final class Wiring {

  private final int sources;
  private final int[][] fanIns;
  private final int[] outputs;

  public Wiring(int sources, int[][] fanIns, int[] outputs) {
    this.sources = sources;
    this.fanIns = fanIns;
    this.outputs = outputs;
  }

  public int sources() {
    return sources;
  }

  public int[][] fanIns() {
    return fanIns;
  }

  public int[] outputs() {
    return outputs;
  }

  /** Returns the sources that each node depends on, as bit masks. */
  public int[] supports() {
    int[] result = new int[fanIns.length];
    for (int i = 0; i < result.length; i++) {
      for (int signal : fanIns[i]) {
        result[i] |= signal < sources ? 1 << signal : result[signal - sources];
      }
    }
    return result;
  }
}

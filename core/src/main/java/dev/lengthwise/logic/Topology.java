package dev.lengthwise.logic;

/**
 * The wiring of a LUT network without the tables: what {@link TopologySolver} fills in.
 *
 * <p>Signals are numbered as in {@link LutNetwork}: sources first, then nodes. A node reads signals
 * smaller than its own number. At most 24 sources and 6 outputs.
 */
final class Topology {

  private final int sources;
  private final int[][] fanIns;
  private final int[] outputs;

  Topology(int sources, int[][] fanIns, int[] outputs) {
    this.sources = sources;
    this.fanIns = fanIns;
    this.outputs = outputs;
  }

  int sources() {
    return sources;
  }

  int[][] fanIns() {
    return fanIns;
  }

  int[] outputs() {
    return outputs;
  }

  /** Returns the sources that each node depends on, as bit masks. */
  int[] supports() {
    int[] result = new int[fanIns.length];
    for (int i = 0; i < result.length; i++) {
      for (int signal : fanIns[i]) {
        result[i] |= signal < sources ? 1 << signal : result[signal - sources];
      }
    }
    return result;
  }
}

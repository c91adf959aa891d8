package dev.lengthwise.logic.network;

import java.util.Arrays;

/**
 * When an output can be there at best: inputs that it depends on are the leaves of a tree of LUTs,
 * so those that come late must not pass many. What LUTs compute does not count, so there may be no
 * network as early.
 *
 * <p>By Kraft's inequality a tree of nodes of k branches has leaves of depths d1, d2 and so on, if
 * and only if the sum of 1/k^d is at most 1 (L. G. Kraft, "A device for quantizing, grouping, and
 * coding amplitude-modulated pulses", 1949).
 */
public final class DelayFloor {

  /** More levels than any input count asks for. */
  private static final int MOST_DEPTH = 32;

  private DelayFloor() {}

  /**
   * Returns the time before which no output is there that depends on some inputs.
   *
   * @param delays what signals take; each LUT counts as fast as its fastest input, and fan-out not
   *     at all
   * @param lutInputs the inputs of a LUT, at least 2
   * @param inputs the numbers of the inputs that the output depends on, each once
   * @return in the unit of the delays, at least 0
   */
  public static int of(DelayModel delays, int lutInputs, int... inputs) {
    int latest = Arrays.stream(inputs).map(delays::arrival).max().orElse(0);
    int level = delays.fastest();
    int least = latest;
    int most = latest + MOST_DEPTH * level;
    while (least < most) {
      int time = least + (most - least) / 2;
      if (isReachable(delays, lutInputs, inputs, time)) {
        most = time;
      } else {
        least = time + 1;
      }
    }
    return least;
  }

  /** Tells whether a tree has room for all inputs as deep as they may be. */
  private static boolean isReachable(DelayModel delays, int lutInputs, int[] inputs, int time) {
    int[] leaves = new int[MOST_DEPTH + 1];
    for (int input : inputs) {
      leaves[Math.min(MOST_DEPTH, (time - delays.arrival(input)) / delays.fastest())]++;
    }
    int nodes = 0;
    for (int depth = MOST_DEPTH; depth > 0; depth--) {
      nodes = (nodes + leaves[depth] + lutInputs - 1) / lutInputs;
    }
    return nodes + leaves[0] <= 1;
  }
}

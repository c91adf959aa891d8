package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import java.util.Arrays;

/**
 * What a lane's function says at 64 points at once: computed from its rows, one point after the
 * other. Points are numbered over the inputs that matter, the first of which counts fastest.
 */
final class LaneWords {

  /** The inputs that vary within a word. */
  private static final int IN_A_WORD = 6;

  private final LaneFunction shape;
  private final int[] inputs;
  private final int[] window;

  /** The bytes of each point of a word, in which the other inputs are 0, and its mode word. */
  private final int[][] windows;

  private final int[] modes;

  LaneWords(LaneFunction shape, int[] inputs) {
    this.shape = shape;
    this.inputs = inputs;
    this.window = new int[shape.bytes()];
    int points = 1 << Math.min(IN_A_WORD, inputs.length);
    this.windows = new int[points][shape.bytes()];
    this.modes = new int[points];
    for (int p = 0; p < points; p++) {
      modes[p] = fill(p, 0, windows[p]);
    }
  }

  /** Puts the bits of a number into a window, the first for an input; returns the mode word. */
  private int fill(long number, int from, int[] bytes) {
    int modeInput = 8 * bytes.length;
    int word = 0;
    for (int i = from; i < inputs.length; i++) {
      int value = (int) (number >>> (i - from) & 1);
      int input = inputs[i];
      if (input < modeInput) {
        bytes[input >> 3] |= value << (input & 7);
      } else {
        word |= value << (input - modeInput);
      }
    }
    return word;
  }

  /** Computes the length bits of points from 64 * word on; returns those points that matter. */
  long at(long word, long[] wanted) {
    Arrays.fill(wanted, 0);
    int[] common = new int[window.length];
    int commonModes = fill(word, IN_A_WORD, common);
    long care = 0;
    for (int p = 0; p < modes.length; p++) {
      for (int i = 0; i < common.length; i++) {
        window[i] = common[i] | windows[p][i];
      }
      int length = shape.length(window, commonModes | modes[p]);
      if (length != LaneFunction.ANYTHING) {
        care |= 1L << p;
        for (int b = 0; b < wanted.length; b++) {
          wanted[b] |= (long) (length >> b & 1) << p;
        }
      }
    }
    return care;
  }
}

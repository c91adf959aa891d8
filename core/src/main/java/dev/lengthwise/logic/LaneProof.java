package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Compares a lane's network with its function at every point of the bits that either reads. */
final class LaneProof {

  private final LaneShape shape;
  private final LutNetwork network;

  LaneProof(LaneShape shape, LutNetwork network) {
    this.shape = shape;
    this.network = network;
  }

  /** The points compared and the first that differs, in words. */
  record Outcome(long points, Optional<String> difference) {}

  /** Returns the inputs that matter to the function or the network. */
  private int[] inputs() {
    int bytes = shape.bytes();
    boolean[] used = new boolean[8 * bytes + shape.modes().size()];
    for (LutNetwork.Lut lut : network.luts()) {
      for (int signal : lut.fanIns()) {
        if (signal < used.length) {
          used[signal] = true;
        }
      }
    }
    List<Integer> list = new ArrayList<>();
    for (int i = 0; i < used.length; i++) {
      if (used[i] || shape.reads(i)) {
        list.add(i);
      }
    }
    return list.stream().mapToInt(Integer::intValue).toArray();
  }

  Outcome run() {
    int[] inputs = inputs();
    int count = inputs.length;
    long words = count <= 6 ? 1 : 1L << (count - 6);
    int bits = shape.lengthBits();
    int modeInput = 8 * shape.bytes();
    int[] window = new int[shape.bytes()];
    long points = 0;
    for (long word = 0; word < words; word++) {
      long[] in = new long[network.inputNames().size()];
      for (int i = 0; i < count; i++) {
        in[inputs[i]] = LutWords.variable(i, word);
      }
      long[] wanted = new long[bits];
      long care = 0;
      for (int p = 0; p < 64 && p < 1L << count; p++) {
        java.util.Arrays.fill(window, 0);
        int modes = 0;
        for (int i = 0; i < count; i++) {
          int value = (int) (in[inputs[i]] >>> p & 1);
          if (inputs[i] < modeInput) {
            window[inputs[i] >> 3] |= value << (inputs[i] & 7);
          } else {
            modes |= value << (inputs[i] - modeInput);
          }
        }
        int length = shape.length(window, modes);
        if (length != LaneShape.ANYTHING) {
          care |= 1L << p;
          for (int b = 0; b < bits; b++) {
            wanted[b] |= (long) (length >> b & 1) << p;
          }
        }
      }
      points += Long.bitCount(care);
      long[] out = network.evaluate(in);
      for (int b = 0; b < bits; b++) {
        if (((out[b] ^ wanted[b]) & care) != 0) {
          return new Outcome(points, Optional.of("length bit " + b + " in word " + word));
        }
      }
    }
    return new Outcome(points, Optional.empty());
  }
}

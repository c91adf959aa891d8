package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Compares a lane's network with its function at every point of the bits that either reads, 64
 * points at a time. The function is computed from the rows, not from the codes of the mapping.
 */
public final class LaneProof {

  /** The most bits read for which every point is compared. */
  public static final int MOST_INPUTS = 32;

  private final LaneShape shape;
  private final LutNetwork network;

  private LaneProof(LaneShape shape, LutNetwork network) {
    this.shape = shape;
    this.network = network;
  }

  /**
   * What a comparison found.
   *
   * @param points the points that were compared and matter
   * @param difference the first difference in words, if there is one
   */
  public record Outcome(long points, Optional<String> difference) {}

  /**
   * Compares at every point.
   *
   * @param shape the function
   * @param network a network with the inputs and outputs that {@link LaneMapping} states
   * @return what was found
   * @throws IllegalArgumentException if more than {@value #MOST_INPUTS} bits are read
   */
  public static Outcome run(LaneShape shape, LutNetwork network) {
    LaneProof proof = new LaneProof(shape, network);
    int[] inputs = proof.inputs();
    if (inputs.length > MOST_INPUTS) {
      throw new IllegalArgumentException(
          "lane proof: at most " + MOST_INPUTS + " bits may be read, found " + inputs.length);
    }
    return proof.run(inputs);
  }

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

  private Outcome run(int[] inputs) {
    int count = inputs.length;
    long words = count <= 6 ? 1 : 1L << (count - 6);
    int bits = shape.lengthBits();
    long points = 0;
    long[] in = new long[network.inputNames().size()];
    long[] wanted = new long[bits];
    for (long word = 0; word < words; word++) {
      for (int i = 0; i < count; i++) {
        in[inputs[i]] = LutWords.variable(i, word);
      }
      long care = wanted(inputs, in, wanted);
      points += Long.bitCount(care);
      long[] out = network.evaluate(in);
      for (int b = 0; b < bits; b++) {
        long wrong = (out[b] ^ wanted[b]) & care;
        if (wrong != 0) {
          return new Outcome(
              points, Optional.of(describe(inputs, in, b, Long.numberOfTrailingZeros(wrong))));
        }
      }
    }
    return new Outcome(points, Optional.empty());
  }

  /** Computes the length bits of 64 points; returns those that matter. */
  private long wanted(int[] inputs, long[] in, long[] wanted) {
    Arrays.fill(wanted, 0);
    int[] window = new int[shape.bytes()];
    long care = 0;
    for (int p = 0; p < 64 && p < 1L << inputs.length; p++) {
      int length = shape.length(window, point(inputs, in, p, window));
      if (length != LaneShape.ANYTHING) {
        care |= 1L << p;
        for (int b = 0; b < wanted.length; b++) {
          wanted[b] |= (long) (length >> b & 1) << p;
        }
      }
    }
    return care;
  }

  /** Fills the window with one of 64 points and returns its mode word. */
  private int point(int[] inputs, long[] in, int p, int[] window) {
    Arrays.fill(window, 0);
    int modes = 0;
    int modeInput = 8 * window.length;
    for (int input : inputs) {
      int value = (int) (in[input] >>> p & 1);
      if (input < modeInput) {
        window[input >> 3] |= value << (input & 7);
      } else {
        modes |= value << (input - modeInput);
      }
    }
    return modes;
  }

  private String describe(int[] inputs, long[] in, int bit, int p) {
    int[] window = new int[shape.bytes()];
    int modes = point(inputs, in, p, window);
    StringBuilder bytes = new StringBuilder();
    for (int value : window) {
      bytes.append(String.format(Locale.ROOT, "%02x ", value));
    }
    return String.format(Locale.ROOT, "length bit %d at bytes %sand modes 0x%x", bit, bytes, modes);
  }
}

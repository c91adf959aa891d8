package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.rewrite.EditableNetwork;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Points of a lane at which networks are compared with its function before they are proved: every
 * code of every map in every mode word, behind each the bytes drawn at random.
 */
final class LaneSample {

  /** About how many points a sample has. */
  private static final int POINTS = 6_000;

  private final LaneFunction shape;
  private final Random random;
  private final List<int[]> windows = new ArrayList<>();
  private final List<Integer> modeWords = new ArrayList<>();
  private final List<Integer> lengths = new ArrayList<>();

  LaneSample(LaneFunction shape, long seed) {
    this.shape = shape;
    this.random = new Random(seed);
    List<LaneFunction.CodeMap> maps = shape.codedMaps();
    int[][] path = new int[maps.size()][];
    path[0] = new int[0];
    for (int map = 0; map < path.length; map++) {
      for (int code = 0; code < 256; code++) {
        if (maps.get(map).outcomes().get(code) instanceof LaneFunction.Escape escape
            && path[escape.map()] == null) {
          path[escape.map()] = extended(path[map], maps.get(map).offset(), code);
        }
      }
    }
    int repeats = Math.max(1, POINTS / (256 * path.length));
    for (int map = 0; map < path.length; map++) {
      for (int i = 0; i < 256 * repeats; i++) {
        draw(
            extended(path[map], maps.get(map).offset(), i & 0xff),
            random.nextInt(shape.modeWords()));
      }
    }
  }

  private static int[] extended(int[] path, int offset, int code) {
    int[] result = java.util.Arrays.copyOf(path, path.length + 2);
    result[path.length] = offset;
    result[path.length + 1] = code;
    return result;
  }

  private void draw(int[] path, int modeWord) {
    int[] window = new int[shape.bytes()];
    for (int b = 0; b < window.length; b++) {
      window[b] = random.nextInt(256);
    }
    for (int i = 0; i < path.length; i += 2) {
      window[path[i]] = path[i + 1];
    }
    add(window, modeWord);
  }

  /** Adds a point if it matters. */
  void add(int[] window, int modeWord) {
    int length = shape.length(window, modeWord);
    if (length != LaneFunction.ANYTHING) {
      windows.add(window.clone());
      modeWords.add(modeWord);
      lengths.add(length);
    }
  }

  int size() {
    return lengths.size();
  }

  private int words() {
    return Math.max(1, (size() + 63) >> 6);
  }

  /**
   * Returns a network to be rewritten as far as the sample tells.
   *
   * @param network the network
   * @param spareSlots room for further LUTs
   */
  EditableNetwork workNet(LutNetwork network, int spareSlots) {
    int bits = 8 * shape.bytes();
    long[][] in = new long[bits + shape.modes().size()][words()];
    long[][] on = new long[shape.lengthBits()][words()];
    long[][] care = new long[shape.lengthBits()][words()];
    for (int p = 0; p < size(); p++) {
      for (int i = 0; i < in.length; i++) {
        int value = i < bits ? windows.get(p)[i >> 3] >> (i & 7) : modeWords.get(p) >> (i - bits);
        in[i][p >> 6] |= (long) (value & 1) << p;
      }
      for (int b = 0; b < on.length; b++) {
        on[b][p >> 6] |= (long) (lengths.get(p) >> b & 1) << p;
        care[b][p >> 6] |= 1L << p;
      }
    }
    return new EditableNetwork(network, in, on, care, spareSlots);
  }
}

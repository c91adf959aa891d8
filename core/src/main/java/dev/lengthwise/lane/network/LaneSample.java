package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.rewrite.SpecifiedPoints;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/**
 * Points of a lane at which networks are compared with its function before they are proved: every
 * code of every map in every mode word, behind each the bytes drawn at random.
 */
final class LaneSample {

  /** The ways to one map that a sample tries. */
  private static final int MOST_WAYS = 256;

  private final LaneFunction shape;
  private final Random random;
  private final List<int[]> windows = new ArrayList<>();
  private final List<Integer> modeWords = new ArrayList<>();
  private final List<Integer> lengths = new ArrayList<>();

  /**
   * Draws a sample.
   *
   * @param shape the lane
   * @param points about how many points, at least 1
   * @param seed what the draws start from
   */
  LaneSample(LaneFunction shape, int points, long seed) {
    this.shape = shape;
    this.random = new Random(seed);
    List<Path> paths = paths(shape.codedMaps());
    int all = 256 * paths.size();
    // As many points read no map but the first: what they say must not hang on the bytes behind.
    for (int i = 0; i < points; i++) {
      int number = all <= points / 2 ? i / 2 : random.nextInt(all);
      Path path = i % 2 == 0 ? paths.get(0) : paths.get((number >> 8) % paths.size());
      draw(extended(path.codes(), path.offset(), number & 0xff), random.nextInt(shape.modeWords()));
    }
  }

  /**
   * A way to a map.
   *
   * @param codes offsets of bytes and their codes, one after the other
   * @param offset the byte that keys the map
   */
  // Private and never compared, so an array does.
  @SuppressWarnings("ArrayRecordComponent")
  private record Path(int[] codes, int offset) {}

  /** Returns every way to every map, the first map's being the first. */
  private static List<Path> paths(List<LaneFunction.CodeMap> maps) {
    List<Path> result = new ArrayList<>();
    List<List<Path>> ways = new ArrayList<>();
    maps.forEach(map -> ways.add(new ArrayList<>()));
    ways.get(0).add(new Path(new int[0], maps.get(0).offset()));
    for (int map = 0; map < maps.size(); map++) {
      result.addAll(ways.get(map));
      for (Path way : ways.get(map)) {
        for (int code = 0; code < 256; code++) {
          if (maps.get(map).outcomes().get(code) instanceof LaneFunction.Escape escape
              && ways.get(escape.map()).size() < MOST_WAYS) {
            ways.get(escape.map())
                .add(
                    new Path(
                        extended(way.codes(), way.offset(), code),
                        maps.get(escape.map()).offset()));
          }
        }
      }
    }
    return result;
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

  /** Adds a point of another sample of the same lane. */
  void addFrom(LaneSample other, int point) {
    add(other.windows.get(point), other.modeWords.get(point));
  }

  /**
   * Returns the points for rewriting.
   *
   * @param room columns for further points
   */
  SpecifiedPoints points(int room) {
    int words = Math.max(1, (size() + room + 63) >> 6);
    int bits = 8 * shape.bytes();
    long[][] in = new long[bits + shape.modes().size()][words];
    long[][] on = new long[shape.lengthBits()][words];
    long[][] care = new long[shape.lengthBits()][words];
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
    return new SpecifiedPoints(in, on, care, size());
  }
}

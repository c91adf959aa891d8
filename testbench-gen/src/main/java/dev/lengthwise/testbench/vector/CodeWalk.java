package dev.lengthwise.testbench.vector;

import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/** Runs of known code in one memory, walked one after another. */
final class CodeWalk implements ArrayStimulus.Source {

  /** More than the longest window and what lanes see behind it. */
  private static final int GAP = 64;

  private final byte[] memory;
  private final int[] boundaries;
  private final int[] starts;
  private final int[] ends;
  private final int[] modes;

  CodeWalk(List<ArrayVectors.Code> codes) {
    int count = codes.size();
    this.starts = new int[count];
    this.ends = new int[count];
    this.modes = new int[count];
    int at = 0;
    for (int i = 0; i < count; i++) {
      starts[i] = at;
      ends[i] = at + codes.get(i).bytes().length;
      modes[i] = codes.get(i).modes();
      at = (ends[i] + 2 * GAP - 1) / GAP * GAP;
    }
    this.memory = new byte[at];
    IntStream all = IntStream.empty();
    for (int i = 0; i < count; i++) {
      byte[] bytes = codes.get(i).bytes();
      int start = starts[i];
      System.arraycopy(bytes, 0, memory, start, bytes.length);
      all = IntStream.concat(all, Arrays.stream(codes.get(i).boundaries()).map(b -> start + b));
    }
    this.boundaries = all.toArray();
  }

  private int run(int place) {
    int found = Arrays.binarySearch(starts, place);
    return found >= 0 ? found : Math.max(0, -found - 2);
  }

  private int atOrBehind(int place) {
    int found = Arrays.binarySearch(boundaries, place);
    int next = found >= 0 ? found : -found - 1;
    return boundaries[next % boundaries.length];
  }

  @Override
  public byte[] memory() {
    return memory;
  }

  @Override
  public int entry(SplittableRandom random) {
    return boundaries[0];
  }

  @Override
  public int anywhere(SplittableRandom random) {
    return boundaries[random.nextInt(boundaries.length)];
  }

  @Override
  public int past(int notHandled, SplittableRandom random) {
    return atOrBehind(notHandled + 1);
  }

  @Override
  public int modes(int place, SplittableRandom random) {
    return modes[run(place)];
  }

  @Override
  public int behind(int window, SplittableRandom random) {
    return window < ends[run(window - 1)] ? -1 : atOrBehind(window);
  }
}

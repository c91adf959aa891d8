package dev.lengthwise.golden;

import java.util.Arrays;
import java.util.stream.IntStream;

/** Where instructions start in a run of bytes, and why the run ended. */
public final class Boundaries {

  private final int[] starts;
  private final int end;
  private final Outcome reason;

  private Boundaries(int[] starts, int end, Outcome reason) {
    this.starts = starts;
    this.end = end;
    this.reason = reason;
  }

  /**
   * Returns the number of instructions.
   *
   * @return at least 0
   */
  public int count() {
    return starts.length;
  }

  /**
   * Returns where an instruction starts.
   *
   * @param index in [0, count)
   * @return an offset
   */
  public int start(int index) {
    return starts[index];
  }

  /**
   * Returns the length of an instruction.
   *
   * @param index in [0, count)
   * @return bytes
   */
  public int length(int index) {
    return (index + 1 < starts.length ? starts[index + 1] : end) - starts[index];
  }

  /**
   * Returns all starts, ascending.
   *
   * @return offsets
   */
  public IntStream starts() {
    return Arrays.stream(starts);
  }

  /**
   * Returns where the last instruction ends.
   *
   * @return an offset; the end of the bytes if {@link #reason()} is {@link Outcome#LENGTH}
   */
  public int end() {
    return end;
  }

  /**
   * Returns why no instruction is counted from {@link #end()} on.
   *
   * @return {@link Outcome#LENGTH} if the bytes ended with a whole instruction
   */
  public Outcome reason() {
    return reason;
  }

  /** Collects starts in a growing array. */
  static final class Collector {

    private int[] starts = new int[64];
    private int count;

    void add(int start) {
      if (count == starts.length) {
        starts = Arrays.copyOf(starts, count * 2);
      }
      starts[count++] = start;
    }

    Boundaries stoppedAt(int end, Outcome reason) {
      return new Boundaries(Arrays.copyOf(starts, count), end, reason);
    }
  }
}

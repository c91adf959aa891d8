package dev.lengthwise.golden;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.IntStream;

/**
 * Where instructions start in a run of bytes, and why none is found behind the last.
 *
 * <p>Instruction i takes the bytes from {@link #start} on, {@link #length} of them. Bytes between
 * two instructions, or before the first, were passed over as data.
 */
public final class Boundaries {

  private final int[] starts;
  private final byte[] lengths;
  private final int first;
  private final Outcome reason;

  private Boundaries(int[] starts, byte[] lengths, int first, Outcome reason) {
    this.starts = starts;
    this.lengths = lengths;
    this.first = first;
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
   * @throws IndexOutOfBoundsException if out of range
   */
  public int start(int index) {
    return starts[check(index)];
  }

  /**
   * Returns the length of an instruction.
   *
   * @param index in [0, count)
   * @return bytes
   * @throws IndexOutOfBoundsException if out of range
   */
  public int length(int index) {
    return lengths[check(index)];
  }

  private int check(int index) {
    if (index < 0 || index >= starts.length) {
      throw new IndexOutOfBoundsException(
          String.format(
              Locale.ROOT,
              "boundaries: an instruction must be in [0, %d), found %d",
              starts.length,
              index));
    }
    return index;
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
   * @return an offset; where the search began if there is no instruction
   */
  public int end() {
    int last = starts.length - 1;
    return last < 0 ? first : starts[last] + lengths[last];
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

    /** The longest array that every Java machine has. */
    private static final int MOST = Integer.MAX_VALUE - 8;

    private final int first;
    private int[] starts = new int[64];
    private byte[] lengths = new byte[64];
    private int count;
    private Outcome reason = Outcome.LENGTH;

    Collector(int first) {
      this.first = first;
    }

    void add(int start, int length) {
      if (count == starts.length) {
        int more = (int) Math.min(MOST, count * 2L);
        starts = Arrays.copyOf(starts, more);
        lengths = Arrays.copyOf(lengths, more);
      }
      starts[count] = start;
      lengths[count++] = (byte) length;
      reason = Outcome.LENGTH;
    }

    /** Notes that no instruction starts at an offset; the first one behind an end says why. */
    void none(Outcome why) {
      reason = reason == Outcome.LENGTH ? why : reason;
    }

    Boundaries boundaries() {
      return new Boundaries(
          Arrays.copyOf(starts, count), Arrays.copyOf(lengths, count), first, reason);
    }
  }
}

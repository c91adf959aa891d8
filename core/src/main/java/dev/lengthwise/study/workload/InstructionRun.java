package dev.lengthwise.study.workload;

import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.stream.TraceSink;
import dev.lengthwise.study.make.ContentDigest;
import java.util.Arrays;

/** The first instructions of a trace in their order, each as its place in the trace's counts. */
final class InstructionRun implements TraceSink {

  private final TraceCounts counts;
  private final int most;
  private int[] places = new int[1 << 12];
  private int size;

  /**
   * Makes an empty run.
   *
   * @param counts the counts of the whole trace
   * @param most the instructions that are kept; those behind them are passed over
   */
  InstructionRun(TraceCounts counts, int most) {
    this.counts = counts;
    this.most = most;
  }

  @Override
  public void instruction(long address, int length) {
    if (size == most) {
      return;
    }
    if (size == places.length) {
      places = Arrays.copyOf(places, Math.min(most, 2 * size));
    }
    int place = counts.indexOf(address, length);
    if (place < 0) {
      throw new IllegalStateException(
          "trace: the same instructions are expected when it is read again, found one that was not"
              + " counted");
    }
    places[size++] = place;
  }

  int size() {
    return size;
  }

  /** Adds all places to a digest. */
  void addTo(ContentDigest digest) {
    digest.add(size);
    for (int i = 0; i < size; i++) {
      digest.add(places[i]);
    }
  }

  /** Returns an instruction's place in the counts. */
  int place(int index) {
    return places[index];
  }
}

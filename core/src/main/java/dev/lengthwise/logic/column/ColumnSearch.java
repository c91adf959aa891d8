package dev.lengthwise.logic.column;

import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/**
 * Finds the group of inputs whose replacement by the code of its columns saves most inputs for each
 * LUT that it takes. Columns are compared by sums of random numbers, which are equal for different
 * columns about never, and then only cost a better group.
 */
final class ColumnSearch {

  private final int inputs;
  private final long[] weights;

  ColumnSearch(int inputs, int[] kinds) {
    this.inputs = inputs;
    int most = Arrays.stream(kinds).max().orElse(0);
    SplittableRandom random = new SplittableRandom(1);
    long[] ofKind = random.longs(most + 2L).toArray();
    this.weights = IntStream.of(kinds).mapToLong(kind -> ofKind[kind + 1]).toArray();
  }

  /**
   * A group of inputs.
   *
   * @param inputs one bit an input
   * @param codeBits the bits of the code of its columns
   */
  record Group(int inputs, int codeBits) {

    int saved() {
      return Integer.bitCount(inputs) - codeBits;
    }

    /** Saved inputs for each LUT, in parts of a number that all sizes of LUT divide. */
    private int worth() {
      return codeBits == 0 ? Integer.MAX_VALUE : 840 * saved() / codeBits;
    }
  }

  /** Returns the best group of at most so many inputs, the first of equals, if one saves any. */
  Optional<Group> best(int mostInputs) {
    return IntStream.range(1, 1 << inputs)
        .parallel()
        .filter(set -> Integer.bitCount(set) > 1 && Integer.bitCount(set) <= mostInputs)
        .mapToObj(set -> new Group(set, codeBits(columns(set))))
        .filter(group -> group.saved() > 0)
        .min(
            Comparator.comparingInt((Group group) -> -group.worth())
                .thenComparingInt(group -> -group.saved())
                .thenComparingInt(Group::inputs));
  }

  static int codeBits(int columns) {
    return Integer.SIZE - Integer.numberOfLeadingZeros(columns - 1);
  }

  /** Counts different columns. */
  private int columns(int set) {
    Work.check();
    int rest = (1 << inputs) - 1 & ~set;
    long[] sums = new long[1 << Integer.bitCount(set)];
    int number = 0;
    int column = 0;
    do {
      long sum = 0;
      long scale = 1;
      int row = 0;
      do {
        scale = scale * 0x5851f42d4c957f2dL + 0x14057b7ef767814fL;
        sum += weights[column | row] * (scale | 1);
        row = row - rest & rest;
      } while (row != 0);
      sums[number++] = sum;
      column = column - set & set;
    } while (column != 0);
    Arrays.sort(sums);
    int different = 1;
    for (int i = 1; i < sums.length; i++) {
      different += sums[i] != sums[i - 1] ? 1 : 0;
    }
    return different;
  }
}

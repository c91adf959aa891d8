package dev.lengthwise.logic.exact;

import java.util.Arrays;
import java.util.BitSet;

/**
 * What a block must tell apart, the codes by which it does so being free.
 *
 * <p>Row r gives the source values {@code points[r]} and asks that the block's outputs carry a code
 * of class {@code classes[r]}. Two classes may share a code unless they are in the same group: a
 * group stands for what the reader of the code knows besides (a mode word), so classes of different
 * groups are told apart by that. {@code permitted[c]} holds the codes that class c may have, so a
 * block whose codes are already fixed is the special case of disjoint sets.
 *
 * @param sources the number of sources, at most 30
 * @param outputs the number of code bits, at most 10
 * @param points the source values of each row
 * @param classes the class of each row
 * @param groups the group of each class
 * @param permitted the codes each class may have, as a bit set
 */
// Package-internal and never compared, so arrays do.
@SuppressWarnings("ArrayRecordComponent")
public record EncodingProblem(
    int sources, int outputs, int[] points, int[] classes, int[] groups, BitSet[] permitted) {

  /** Returns the set of all codes of a number of bits. */
  public static BitSet allCodes(int bits) {
    BitSet all = new BitSet();
    all.set(0, 1 << bits);
    return all;
  }

  public int rows() {
    return points.length;
  }

  /** Collects rows. */
  public static final class Rows {

    private final int sources;
    private final int outputs;
    private int[] points = new int[1024];
    private int[] classes = new int[1024];
    private int count;

    public Rows(int sources, int outputs) {
      this.sources = sources;
      this.outputs = outputs;
    }

    public void add(int point, int classId) {
      if (count == points.length) {
        points = Arrays.copyOf(points, 2 * count);
        classes = Arrays.copyOf(classes, 2 * count);
      }
      points[count] = point;
      classes[count++] = classId;
    }

    public EncodingProblem problem(int[] groups, BitSet[] permitted) {
      return new EncodingProblem(
          sources,
          outputs,
          Arrays.copyOf(points, count),
          Arrays.copyOf(classes, count),
          groups,
          permitted);
    }
  }
}

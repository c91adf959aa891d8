package dev.lengthwise.logic.gates;

import java.util.Arrays;

/** The best few sets of nodes found that determine a gate, the best first; none holds another. */
final class CutSet {

  /**
   * A set of nodes that determines a gate, ascending; {@code sign} has a bit for each node, by its
   * last six bits. The level is that of the gate as a LUT of the leaves, the cost the LUTs that the
   * gate takes with it, as far as they are known.
   */
  static final class Cut {
    private final int[] leaves;
    private final long sign;
    private final int level;
    private final float cost;

    Cut(int[] leaves, long sign, int level, float cost) {
      this.leaves = leaves;
      this.sign = sign;
      this.level = level;
      this.cost = cost;
    }

    int[] leaves() {
      return leaves;
    }

    long sign() {
      return sign;
    }

    int level() {
      return level;
    }

    float cost() {
      return cost;
    }

    boolean isInside(Cut other) {
      if (leaves.length > other.leaves.length || (sign & ~other.sign) != 0) {
        return false;
      }
      int at = 0;
      for (int leaf : other.leaves) {
        if (at < leaves.length && leaves[at] == leaf) {
          at++;
        }
      }
      return at == leaves.length;
    }
  }

  private final Cut[] cuts;
  private int size;

  CutSet(int most) {
    cuts = new Cut[most];
  }

  /** Puts a cut in its place, unless a cut inside it is there or the set is full of better ones. */
  void add(Cut cut, boolean levelFirst) {
    for (int i = 0; i < size; i++) {
      if (cuts[i].isInside(cut)) {
        return;
      }
    }
    int kept = 0;
    for (int i = 0; i < size; i++) {
      if (!cut.isInside(cuts[i])) {
        cuts[kept++] = cuts[i];
      }
    }
    size = kept;
    int place = size;
    while (place > 0 && isBetter(cut, cuts[place - 1], levelFirst)) {
      place--;
    }
    if (place == cuts.length) {
      return;
    }
    size = Math.min(size + 1, cuts.length);
    System.arraycopy(cuts, place, cuts, place + 1, size - place - 1);
    cuts[place] = cut;
  }

  private static boolean isBetter(Cut a, Cut b, boolean levelFirst) {
    if (levelFirst && a.level != b.level) {
      return a.level < b.level;
    }
    if (Math.abs(a.cost - b.cost) > 1e-3f) {
      return a.cost < b.cost;
    }
    if (a.level != b.level) {
      return a.level < b.level;
    }
    return a.leaves.length < b.leaves.length;
  }

  Cut[] toArray() {
    return Arrays.copyOf(cuts, size);
  }

  /** Merges two ascending sets; null if the union has more than {@code most} nodes. */
  static int[] union(int[] a, int[] b, int[] room, int most) {
    int size = 0;
    int inA = 0;
    int inB = 0;
    while (inA < a.length || inB < b.length) {
      if (size == most) {
        return null;
      }
      int next;
      if (inB == b.length || (inA < a.length && a[inA] < b[inB])) {
        next = a[inA++];
      } else {
        next = b[inB];
        inA += inA < a.length && a[inA] == next ? 1 : 0;
        inB++;
      }
      room[size++] = next;
    }
    return Arrays.copyOf(room, size);
  }
}

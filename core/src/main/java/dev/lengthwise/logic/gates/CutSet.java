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

    /** Tells whether all leaves are among the first few of an ascending row. */
    private boolean isInside(int[] others, int size) {
      if (leaves.length > size) {
        return false;
      }
      int at = 0;
      for (int leaf : leaves) {
        while (at < size && others[at] < leaf) {
          at++;
        }
        if (at == size || others[at] != leaf) {
          return false;
        }
        at++;
      }
      return true;
    }
  }

  private final Cut[] cuts;
  private final long[] signs;
  private int size;

  CutSet(int most) {
    cuts = new Cut[most];
    signs = new long[most];
  }

  /** Tells whether a cut is here whose leaves are all among the first few of an ascending row. */
  boolean holdsInside(int[] leaves, int size, long sign) {
    for (int i = 0; i < this.size; i++) {
      if ((signs[i] & ~sign) == 0 && cuts[i].isInside(leaves, size)) {
        return true;
      }
    }
    return false;
  }

  /**
   * Returns the cost beyond which no cut is kept: one inside another never costs more than that.
   */
  float mostCost() {
    return size < cuts.length ? Float.MAX_VALUE : cuts[size - 1].cost;
  }

  /**
   * Puts a cut that holds none of those here in its place, unless the set is full of better ones.
   */
  void add(Cut cut, boolean levelFirst) {
    int kept = 0;
    for (int i = 0; i < size; i++) {
      if ((cut.sign & ~signs[i]) != 0 || !cut.isInside(cuts[i].leaves, cuts[i].leaves.length)) {
        signs[kept] = signs[i];
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
    System.arraycopy(signs, place, signs, place + 1, size - place - 1);
    cuts[place] = cut;
    signs[place] = cut.sign;
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

  /** Returns the cuts of a node, itself first. */
  static Cut[] withItself(int node, Cut[] cuts) {
    Cut[] result = new Cut[cuts.length + 1];
    result[0] = new Cut(new int[] {node}, 1L << node, 0, 0);
    System.arraycopy(cuts, 0, result, 1, cuts.length);
    return result;
  }

  /** Merges the leaves of two cuts; returns how many they are, or -1 if more than {@code most}. */
  static int union(Cut first, Cut second, int[] room, int most) {
    if (Long.bitCount(first.sign | second.sign) > most) {
      return -1;
    }
    int[] a = first.leaves;
    int[] b = second.leaves;
    int size = 0;
    int inA = 0;
    int inB = 0;
    while (inA < a.length || inB < b.length) {
      if (size == most) {
        return -1;
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
    return size;
  }
}

package dev.lengthwise.logic.exact;

import java.util.Arrays;

/**
 * Finds cheaply that no tables exist for a wiring, as most that are drawn at random have none: in a
 * small part of the time that a solver takes to be made.
 *
 * <p>Two rows that agree on all sources that the outputs depend on must have a combination in
 * common. A LUT of sources has to tell apart the rows that differ in the one output and agree on
 * what all other LUTs read; that is possible if and only if its inputs can be painted in two
 * colours, those of such rows not in one.
 */
public final class Refutation {

  /** The most sources that cells are counted for. */
  private static final int MOST_SOURCES = 16;

  /** The combinations that a relation of one output allows: only 0, only 1. */
  private static final int ONLY_ZERO = 1;

  private static final int ONLY_ONE = 2;

  private Refutation() {}

  /**
   * Tells whether a wiring is seen to have no tables.
   *
   * @param topology the wiring
   * @param relation what its outputs must do
   * @return true if there are none; false says nothing
   */
  public static boolean refutes(Wiring topology, Relation relation) {
    if (relation.sources() > MOST_SOURCES) {
      return false;
    }
    int[] supports = topology.supports();
    int read = 0;
    for (int signal : topology.outputs()) {
      read |= signal < topology.sources() ? 1 << signal : supports[signal - topology.sources()];
    }
    if (contradicts(relation, read)) {
      return true;
    }
    for (int lut = 0; lut < supports.length && topology.outputs().length == 1; lut++) {
      if (readsSources(topology, lut)
          && !isColourable(relation, supports[lut], besides(topology, lut))) {
        return true;
      }
    }
    return false;
  }

  /** Tells whether rows that agree on some sources have no combination in common. */
  private static boolean contradicts(Relation relation, int read) {
    long[] allowed = new long[1 << relation.sources()];
    Arrays.fill(allowed, -1L);
    for (int row = 0; row < relation.points().length; row++) {
      int cell = relation.points()[row] & read;
      allowed[cell] &= relation.allowed()[row];
      if (allowed[cell] == 0) {
        return true;
      }
    }
    return false;
  }

  private static boolean readsSources(Wiring topology, int lut) {
    return Arrays.stream(topology.fanIns()[lut]).allMatch(signal -> signal < topology.sources());
  }

  /** Returns the sources that other LUTs and outputs read themselves. */
  private static int besides(Wiring topology, int lut) {
    int read = 0;
    for (int other = 0; other < topology.fanIns().length; other++) {
      for (int signal : other == lut ? topology.outputs() : topology.fanIns()[other]) {
        read |= signal < topology.sources() ? 1 << signal : 0;
      }
    }
    return read;
  }

  /** Tells whether a LUT of some sources can tell apart what the others do not. */
  private static boolean isColourable(Relation relation, int own, int besides) {
    int[] zeros = new int[1 << relation.sources()];
    int[] ones = new int[1 << relation.sources()];
    Arrays.fill(zeros, -1);
    Arrays.fill(ones, -1);
    for (int row = 0; row < relation.points().length; row++) {
      int point = relation.points()[row];
      int[] cells = relation.allowed()[row] == ONLY_ONE ? ones : zeros;
      cells[point & besides] = point & own;
    }
    Colours colours = new Colours(1 << relation.sources());
    for (int row = 0; row < relation.points().length; row++) {
      int point = relation.points()[row];
      long allowed = relation.allowed()[row];
      int[] others = allowed == ONLY_ONE ? zeros : ones;
      int other = others[point & besides];
      boolean counts = allowed == ONLY_ONE || allowed == ONLY_ZERO;
      if (counts && other >= 0 && !colours.differ(point & own, other)) {
        return false;
      }
    }
    return true;
  }

  /** Cells in two colours, as far as they are bound to each other. */
  private static final class Colours {

    private final int[] above;

    /** Whether a cell differs from the one above it. */
    private final boolean[] differs;

    Colours(int cells) {
      above = new int[cells];
      Arrays.setAll(above, cell -> cell);
      differs = new boolean[cells];
    }

    /** Makes two cells differ; tells whether they can. */
    boolean differ(int one, int other) {
      boolean difference = true;
      int top = one;
      while (above[top] != top) {
        difference ^= differs[top];
        top = above[top];
      }
      int otherTop = other;
      while (above[otherTop] != otherTop) {
        difference ^= differs[otherTop];
        otherTop = above[otherTop];
      }
      if (top == otherTop) {
        return !difference;
      }
      above[top] = otherTop;
      differs[top] = difference;
      return true;
    }
  }
}

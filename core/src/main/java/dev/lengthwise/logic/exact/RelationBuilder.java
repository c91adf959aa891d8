package dev.lengthwise.logic.exact;

import java.util.Arrays;

/** Collects what a {@link Relation} allows, point by point; what is said twice must hold twice. */
public final class RelationBuilder {

  private final int sources;
  private final int outputs;

  /** The place of each point among the rows, from 1 on. */
  private final int[] places;

  private int[] points = new int[64];
  private long[] allowed = new long[64];
  private int rows;

  /**
   * Prepares a relation that allows all.
   *
   * @param sources the sources, few enough that a word for each of their points fits into memory
   * @param outputs the outputs, 1 to 6
   */
  public RelationBuilder(int sources, int outputs) {
    this.sources = sources;
    this.outputs = outputs;
    this.places = new int[1 << sources];
  }

  /**
   * Adds the points of a word, as the values of the sources there.
   *
   * @param values the words of the sources
   * @param word which word
   * @param which the points of the word that count
   * @param right for each combination of the outputs, the points of the word that it is right at
   */
  public void add(long[][] values, int word, long which, long[] right) {
    for (long rest = which; rest != 0; rest &= rest - 1) {
      int at = Long.numberOfTrailingZeros(rest);
      int point = 0;
      for (int s = 0; s < sources; s++) {
        point |= (int) (values[s][word] >>> at & 1) << s;
      }
      long set = 0;
      for (int c = 0; c < right.length; c++) {
        set |= (right[c] >>> at & 1) << c;
      }
      allow(point, set);
    }
  }

  private void allow(int point, long set) {
    if (places[point] == 0) {
      if (rows == points.length) {
        points = Arrays.copyOf(points, 2 * rows);
        allowed = Arrays.copyOf(allowed, 2 * rows);
      }
      points[rows] = point;
      allowed[rows] = set;
      places[point] = ++rows;
    } else {
      allowed[places[point] - 1] &= set;
    }
  }

  /** Returns the relation, without the points at which all is allowed. */
  public Relation build() {
    long all = Relation.all(outputs);
    int kept = 0;
    int[] keptPoints = new int[rows];
    long[] keptAllowed = new long[rows];
    for (int r = 0; r < rows; r++) {
      if (allowed[r] != all) {
        keptPoints[kept] = points[r];
        keptAllowed[kept++] = allowed[r];
      }
    }
    return new Relation(
        sources, outputs, Arrays.copyOf(keptPoints, kept), Arrays.copyOf(keptAllowed, kept));
  }
}

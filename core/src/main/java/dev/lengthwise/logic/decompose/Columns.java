package dev.lengthwise.logic.decompose;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The columns of a decomposition chart and their merging into classes. */
public final class Columns {

  private final long[][] on;
  private final long[][] care;
  private final int[] group;

  /**
   * Reads the columns.
   *
   * @param tables the outputs, each of {@code inputs} inputs
   * @param bound the bound inputs, as a mask
   * @param shared those of the bound inputs that are free as well; columns that differ in them need
   *     no common code
   */
  Columns(List<TruthTable> tables, int inputs, int bound, int shared) {
    int[] boundPoints = points(bound);
    int[] freePoints = points((1 << inputs) - 1 & ~bound);
    int rows = freePoints.length;
    int words = (rows * tables.size() + 63) / 64;
    on = new long[boundPoints.length][words];
    care = new long[boundPoints.length][words];
    group = new int[boundPoints.length];
    for (int column = 0; column < boundPoints.length; column++) {
      group[column] = boundPoints[column] & shared;
    }
    int place = 0;
    for (TruthTable table : tables) {
      for (int row = 0; row < rows; row++) {
        for (int column = 0; column < boundPoints.length; column++) {
          int point = boundPoints[column] | freePoints[row];
          if (table.isCare(point)) {
            care[column][place >> 6] |= 1L << place;
            on[column][place >> 6] |= (table.isOn(point) ? 1L : 0L) << place;
          }
        }
        place++;
      }
    }
  }

  /**
   * Returns the points that some inputs can make, the first input being the lowest bit of a place.
   */
  private static int[] points(int inputs) {
    int[] points = new int[1 << Integer.bitCount(inputs)];
    for (int i = 1; i < points.length; i++) {
      points[i] = points[i - 1] - inputs & inputs;
    }
    return points;
  }

  /** Returns the class of each column, numbered from 0 within each value of the shared inputs. */
  int[] classes() {
    int[] result = new int[on.length];
    int[] order = byCare();
    List<long[]> classOn = new ArrayList<>();
    List<long[]> classCare = new ArrayList<>();
    List<Integer> classGroup = new ArrayList<>();
    List<Integer> number = new ArrayList<>();
    for (int column : order) {
      int found = -1;
      for (int c = 0; c < classOn.size() && found < 0; c++) {
        if (classGroup.get(c) == group[column]
            && agree(classOn.get(c), classCare.get(c), on[column], care[column])) {
          found = c;
        }
      }
      if (found < 0) {
        found = classOn.size();
        classOn.add(new long[on[column].length]);
        classCare.add(new long[on[column].length]);
        int before = 0;
        for (int other : classGroup) {
          before += other == group[column] ? 1 : 0;
        }
        classGroup.add(group[column]);
        number.add(before);
      }
      for (int w = 0; w < on[column].length; w++) {
        classOn.get(found)[w] |= on[column][w];
        classCare.get(found)[w] |= care[column][w];
      }
      result[column] = number.get(found);
    }
    return result;
  }

  /** Orders the columns so that those with most care points choose first. */
  private int[] byCare() {
    long[] keys = new long[on.length];
    for (int c = 0; c < keys.length; c++) {
      long count = 0;
      for (long word : care[c]) {
        count += Long.bitCount(word);
      }
      keys[c] = -count << 16 | c;
    }
    Arrays.sort(keys);
    return Arrays.stream(keys).mapToInt(key -> (int) (key & 0xffff)).toArray();
  }

  private static boolean agree(long[] onA, long[] careA, long[] onB, long[] careB) {
    for (int w = 0; w < onA.length; w++) {
      if (((onA[w] ^ onB[w]) & careA[w] & careB[w]) != 0) {
        return false;
      }
    }
    return true;
  }
}

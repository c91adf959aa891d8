package dev.lengthwise.logic.column;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Makes a function of many inputs one of fewer: inputs that do not matter go, and groups of inputs
 * that matter by few classes, their columns, are replaced by the code of the class, step by step.
 *
 * <p>Values are <em>kinds</em>, numbers from 0 on, or {@link #ANYTHING}. A signal is an input, by
 * its number, or, from the number of inputs on, a LUT of the steps in their order.
 */
public final class ColumnReduction {

  /** The value of points that do not matter. */
  public static final int ANYTHING = -1;

  /** The most inputs at the start. */
  public static final int MOST_INPUTS = 16;

  private final int inputs;
  private final int lutInputs;
  private final List<Step> steps = new ArrayList<>();
  private int luts;
  private int[] signals;
  private int[] kinds;

  /**
   * A group of signals and its code.
   *
   * @param signals what the LUTs read, input 0 first
   * @param code a LUT for each bit of the code
   */
  public record Step(List<Integer> signals, List<TruthTable> code) {

    /**
     * Copies the lists.
     *
     * @param signals see Step
     * @param code see Step
     */
    public Step {
      signals = List.copyOf(signals);
      code = List.copyOf(code);
    }
  }

  private ColumnReduction(int inputs, int[] kinds, int lutInputs) {
    this.inputs = inputs;
    this.lutInputs = lutInputs;
    this.signals = new int[inputs];
    Arrays.setAll(signals, i -> i);
    this.kinds = kinds.clone();
  }

  /**
   * Reduces a function as long as an input goes for each LUT, and further while it has more inputs
   * than are wanted.
   *
   * @param kinds the kind at each of 2^n points, n in [0, {@value #MOST_INPUTS}]
   * @param lutInputs the inputs of a LUT, at least 2
   * @param wanted the inputs that are few enough
   * @return the steps and what is left
   * @throws IllegalArgumentException if the number of points is no such power
   */
  public static ColumnReduction of(int[] kinds, int lutInputs, int wanted) {
    int inputs = Integer.numberOfTrailingZeros(kinds.length);
    if (Integer.bitCount(kinds.length) != 1 || inputs > MOST_INPUTS) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "column reduction: the points must be a power of two up to %d, found %d",
              1 << MOST_INPUTS,
              kinds.length));
    }
    ColumnReduction reduction = new ColumnReduction(inputs, kinds, lutInputs);
    reduction.run(wanted);
    return reduction;
  }

  /**
   * Returns the steps.
   *
   * @return in the order in which they are made
   */
  public List<Step> steps() {
    return List.copyOf(steps);
  }

  /**
   * Returns the signals that the function still reads.
   *
   * @return the first is input 0 of what is left
   */
  public List<Integer> signals() {
    return Arrays.stream(signals).boxed().toList();
  }

  /**
   * Returns the kind at a point of the signals left.
   *
   * @param point one bit a signal
   * @return a kind, or {@link #ANYTHING}
   */
  public int kind(int point) {
    return kinds[point];
  }

  private void run(int wanted) {
    dropInputs();
    boolean goesOn = true;
    while (goesOn && signals.length > lutInputs) {
      Optional<ColumnSearch.Group> group =
          new ColumnSearch(signals.length, kinds)
              .best(lutInputs)
              .filter(g -> signals.length > wanted || g.saved() >= g.codeBits());
      goesOn = group.isPresent() && replace(group.get().inputs());
      dropInputs();
    }
  }

  /** Drops inputs one after the other, from the lowest, while none of its points becomes two. */
  private void dropInputs() {
    for (int i = signals.length - 1; i >= 0; i--) {
      int bit = 1 << i;
      int[] folded = new int[kinds.length / 2];
      boolean fits = true;
      for (int p = 0; p < folded.length && fits; p++) {
        int at = p & bit - 1 | (p & -bit) << 1;
        folded[p] = kinds[at] == ANYTHING ? kinds[at | bit] : kinds[at];
        fits = kinds[at | bit] == ANYTHING || kinds[at | bit] == folded[p];
      }
      if (fits) {
        kinds = folded;
        signals = without(bit);
      }
    }
  }

  private int[] without(int set) {
    int[] left = new int[signals.length - Integer.bitCount(set)];
    int next = 0;
    for (int i = 0; i < signals.length; i++) {
      if ((set >> i & 1) == 0) {
        left[next++] = signals[i];
      }
    }
    return left;
  }

  /** Replaces a group of inputs by a code; tells whether that left fewer inputs. */
  private boolean replace(int set) {
    int rest = (1 << signals.length) - 1 & ~set;
    int columns = 1 << Integer.bitCount(set);
    int rows = 1 << Integer.bitCount(rest);
    List<int[]> classes = new ArrayList<>();
    int[] classOf = new int[columns];
    for (int column = 0; column < columns; column++) {
      int[] own = new int[rows];
      for (int row = 0; row < rows; row++) {
        own[row] = kinds[spread(column, set) | spread(row, rest)];
      }
      classOf[column] = join(classes, own);
    }
    int bits = ColumnSearch.codeBits(classes.size());
    if (bits >= Integer.bitCount(set)) {
      return false;
    }
    List<Integer> read = new ArrayList<>();
    for (int i = 0; i < signals.length; i++) {
      if ((set >> i & 1) != 0) {
        read.add(signals[i]);
      }
    }
    List<TruthTable> code = new ArrayList<>();
    int[] left = without(set);
    int[] next = Arrays.copyOf(left, left.length + bits);
    for (int b = 0; b < bits; b++) {
      int bit = b;
      code.add(TruthTable.of(read.size(), column -> (classOf[column] >> bit & 1) != 0));
      next[left.length + b] = inputs + luts++;
    }
    steps.add(new Step(read, code));
    kinds = new int[rows << bits];
    Arrays.fill(kinds, ANYTHING);
    for (int number = 0; number < classes.size(); number++) {
      System.arraycopy(classes.get(number), 0, kinds, number * rows, rows);
    }
    signals = next;
    return true;
  }

  /** Adds a column to the first class that it agrees with, or makes it a class. */
  private static int join(List<int[]> classes, int[] column) {
    for (int number = 0; number < classes.size(); number++) {
      int[] known = classes.get(number);
      boolean agrees = true;
      for (int row = 0; row < column.length && agrees; row++) {
        agrees = known[row] == column[row] || known[row] == ANYTHING || column[row] == ANYTHING;
      }
      if (agrees) {
        for (int row = 0; row < column.length; row++) {
          known[row] = known[row] == ANYTHING ? column[row] : known[row];
        }
        return number;
      }
    }
    classes.add(column);
    return classes.size() - 1;
  }

  private static int spread(int packed, int set) {
    int result = 0;
    int at = 0;
    for (int left = set; left != 0; left &= left - 1) {
      result |= (packed >> at++ & 1) << Integer.numberOfTrailingZeros(left);
    }
    return result;
  }
}

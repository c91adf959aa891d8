package dev.lengthwise.logic.function;

import java.util.Arrays;
import java.util.Locale;
import java.util.function.IntPredicate;

/**
 * One output of an incompletely specified Boolean function of 0 to {@value #MOST_INPUTS} inputs.
 *
 * <p>Each of the 2^n points is 1, 0 or a don't-care. Immutable; equal when inputs, care set and
 * values on the care set are equal.
 */
public final class TruthTable {

  /** The most inputs a table may have; a table of 24 inputs takes 4 MiB. */
  public static final int MOST_INPUTS = 24;

  private final int inputs;
  private final long[] on;
  private final long[] care;

  private TruthTable(int inputs, long[] on, long[] care) {
    this.inputs = inputs;
    this.on = on;
    this.care = care;
  }

  /**
   * Returns the table that the predicates state.
   *
   * @param inputs the number of inputs, in [0, {@value #MOST_INPUTS}]
   * @param on tells whether a care point is 1; not asked for don't-cares
   * @param care tells whether a point matters
   * @return the table
   * @throws IllegalArgumentException if {@code inputs} is out of range
   */
  public static TruthTable of(int inputs, IntPredicate on, IntPredicate care) {
    checkInputs(inputs);
    long[] onWords = new long[words(inputs)];
    long[] careWords = new long[words(inputs)];
    for (int point = 0; point < 1 << inputs; point++) {
      if (care.test(point)) {
        careWords[point >> 6] |= 1L << point;
        if (on.test(point)) {
          onWords[point >> 6] |= 1L << point;
        }
      }
    }
    return new TruthTable(inputs, onWords, careWords);
  }

  /**
   * Returns the completely specified table that the predicate states.
   *
   * @param inputs the number of inputs, in [0, {@value #MOST_INPUTS}]
   * @param on tells whether a point is 1
   * @return the table
   * @throws IllegalArgumentException if {@code inputs} is out of range
   */
  public static TruthTable of(int inputs, IntPredicate on) {
    return of(inputs, on, point -> true);
  }

  /**
   * Returns the table given as packed words; values outside the care set are ignored.
   *
   * @param inputs the number of inputs, in [0, {@value #MOST_INPUTS}]
   * @param on the points that are 1, packed as the package page says
   * @param care the points that matter, packed likewise
   * @return the table
   * @throws IllegalArgumentException if {@code inputs} is out of range or an array has not exactly
   *     {@code max(1, 2^inputs / 64)} words
   */
  public static TruthTable ofWords(int inputs, long[] on, long[] care) {
    checkInputs(inputs);
    int words = words(inputs);
    if (on.length != words || care.length != words) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "truth table: %d inputs take %d words, found %d and %d",
              inputs,
              words,
              on.length,
              care.length));
    }
    long mask = inputs < 6 ? (1L << (1 << inputs)) - 1 : -1L;
    long[] onWords = new long[words];
    long[] careWords = new long[words];
    for (int i = 0; i < words; i++) {
      careWords[i] = care[i] & mask;
      onWords[i] = on[i] & careWords[i];
    }
    return new TruthTable(inputs, onWords, careWords);
  }

  /**
   * Parses a table written as digits, position 0 first.
   *
   * @param digits 2^n digits {@code 0}, {@code 1} or {@code -}
   * @return the table
   * @throws IllegalArgumentException if the length is no power of two or a digit is none of these
   */
  public static TruthTable parse(String digits) {
    int length = digits.length();
    if (length == 0 || Integer.bitCount(length) != 1) {
      throw new IllegalArgumentException(
          "truth table: the number of digits must be a power of two, found " + length);
    }
    for (int i = 0; i < length; i++) {
      if ("01-".indexOf(digits.charAt(i)) < 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "truth table: a digit must be 0, 1 or -, found U+%04X at position %d",
                (int) digits.charAt(i),
                i));
      }
    }
    return of(
        Integer.numberOfTrailingZeros(length),
        point -> digits.charAt(point) == '1',
        point -> digits.charAt(point) != '-');
  }

  /**
   * Returns the number of inputs.
   *
   * @return in [0, {@value #MOST_INPUTS}]
   */
  public int inputs() {
    return inputs;
  }

  /**
   * Tells whether a point is specified as 1.
   *
   * @param point in [0, 2^inputs)
   * @return false for 0 and for a don't-care
   */
  public boolean isOn(int point) {
    return (on[point >> 6] >>> point & 1) != 0;
  }

  /**
   * Tells whether a point matters.
   *
   * @param point in [0, 2^inputs)
   * @return false for a don't-care
   */
  public boolean isCare(int point) {
    return (care[point >> 6] >>> point & 1) != 0;
  }

  /**
   * Tells whether no point is a don't-care.
   *
   * @return true if completely specified
   */
  public boolean isComplete() {
    return careCount() == 1L << inputs;
  }

  /**
   * Returns the number of points that matter.
   *
   * @return in [0, 2^inputs]
   */
  public long careCount() {
    return count(care);
  }

  /**
   * Returns the number of points that are 1.
   *
   * @return in [0, 2^inputs]
   */
  public long onCount() {
    return count(on);
  }

  private static long count(long[] words) {
    long count = 0;
    for (long word : words) {
      count += Long.bitCount(word);
    }
    return count;
  }

  /**
   * Returns a copy of the points that are 1, packed as the package page says.
   *
   * @return {@code max(1, 2^inputs / 64)} words
   */
  public long[] onWords() {
    return on.clone();
  }

  /**
   * Returns a copy of the points that matter, packed as the package page says.
   *
   * @return {@code max(1, 2^inputs / 64)} words
   */
  public long[] careWords() {
    return care.clone();
  }

  private static int words(int inputs) {
    return inputs <= 6 ? 1 : 1 << (inputs - 6);
  }

  private static void checkInputs(int inputs) {
    if (inputs < 0 || inputs > MOST_INPUTS) {
      throw new IllegalArgumentException(
          "truth table: the number of inputs must be in [0, " + MOST_INPUTS + "], found " + inputs);
    }
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof TruthTable that
        && inputs == that.inputs
        && Arrays.equals(on, that.on)
        && Arrays.equals(care, that.care);
  }

  @Override
  public int hashCode() {
    return (31 * inputs + Arrays.hashCode(on)) * 31 + Arrays.hashCode(care);
  }

  /** Returns the digits that {@link #parse} reads, or a summary for more than 8 inputs. */
  @Override
  public String toString() {
    if (inputs > 8) {
      return String.format(
          Locale.ROOT,
          "truth table of %d inputs, %d ones, %d care",
          inputs,
          onCount(),
          careCount());
    }
    StringBuilder digits = new StringBuilder();
    for (int point = 0; point < 1 << inputs; point++) {
      digits.append(!isCare(point) ? '-' : isOn(point) ? '1' : '0');
    }
    return digits.toString();
  }
}

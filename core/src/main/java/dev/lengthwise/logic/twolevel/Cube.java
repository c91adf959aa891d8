package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.function.TruthTable;
import java.util.Locale;

/**
 * One product term: an AND of input literals, feeding the OR of one or more outputs.
 *
 * @param inputs the number of inputs, in [0, {@value TruthTable#MOST_INPUTS}]
 * @param fixed the inputs that have a literal, one bit an input
 * @param value the values of those literals; a subset of {@code fixed}
 * @param outputs the outputs that the term feeds, one bit an output; not 0
 */
public record Cube(int inputs, int fixed, int value, long outputs) {

  /**
   * Checks the fields.
   *
   * @param inputs the number of inputs, in [0, {@value TruthTable#MOST_INPUTS}]
   * @param fixed the inputs that have a literal, one bit an input
   * @param value the values of those literals; a subset of {@code fixed}
   * @param outputs the outputs that the term feeds, one bit an output; not 0
   * @throws IllegalArgumentException if a field is out of the range stated for it
   */
  public Cube {
    if (inputs < 0 || inputs > TruthTable.MOST_INPUTS) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cube: the number of inputs must be in [0, %d], found %d",
              TruthTable.MOST_INPUTS,
              inputs));
    }
    if (fixed >>> inputs != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cube: the literals must be of the %d inputs, found 0x%x",
              inputs,
              fixed));
    }
    if ((value & ~fixed) != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cube: the value must lie within the literals 0x%x, found 0x%x",
              fixed,
              value));
    }
    if (outputs == 0) {
      throw new IllegalArgumentException("cube: a term must feed an output, found none");
    }
  }

  /**
   * Parses the input part of a term that feeds output 0.
   *
   * @param text a character an input, {@code 0}, {@code 1} or {@code -}, the highest input first
   * @return the term
   * @throws IllegalArgumentException if a character is none of these or there are too many
   */
  public static Cube parse(String text) {
    int fixed = 0;
    int value = 0;
    for (int i = 0; i < text.length(); i++) {
      char digit = text.charAt(i);
      if ("01-".indexOf(digit) < 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "cube: a character must be 0, 1 or -, found U+%04X at position %d",
                (int) digit,
                i));
      }
      fixed = fixed << 1 | (digit == '-' ? 0 : 1);
      value = value << 1 | (digit == '1' ? 1 : 0);
    }
    return new Cube(text.length(), fixed, value, 1);
  }

  /**
   * Returns the number of input literals.
   *
   * @return in [0, inputs]
   */
  public int literals() {
    return Integer.bitCount(fixed);
  }

  /**
   * Tells whether the term is 1 at a point.
   *
   * @param point in [0, 2^inputs)
   * @return true if every literal agrees
   */
  public boolean holds(int point) {
    return (point & fixed) == value;
  }

  /**
   * Tells whether this term is 1 wherever another is and feeds every output that the other feeds.
   *
   * @param other a term of as many inputs
   * @return true if the other is redundant beside this one
   */
  public boolean contains(Cube other) {
    return (fixed & ~other.fixed) == 0
        && (other.value & fixed) == value
        && (other.outputs & ~outputs) == 0;
  }

  /**
   * Returns the input part as text.
   *
   * @return a character an input, {@code 0}, {@code 1} or {@code -}, the highest input first
   */
  public String text() {
    StringBuilder text = new StringBuilder();
    for (int i = inputs - 1; i >= 0; i--) {
      text.append((fixed >>> i & 1) == 0 ? '-' : (value >>> i & 1) == 0 ? '0' : '1');
    }
    return text.toString();
  }

  /**
   * Returns the smallest point at which the term is 1 after {@code point}, or -1 after the last.
   */
  public int nextPoint(int point) {
    int free = ((1 << inputs) - 1) & ~fixed;
    int next = ((point | fixed) + 1) & free;
    return next == 0 ? -1 : next | value;
  }

  @Override
  public String toString() {
    return outputs == 1 ? text() : String.format(Locale.ROOT, "%s 0x%x", text(), outputs);
  }
}

package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.covering.CoveringProblem;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.OutputWords;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * All prime implicants of one or several outputs, don't-cares taken as 1.
 *
 * <p>Of several outputs, these are the primes of every AND of outputs, each with the most outputs
 * that it may feed (the multiple-output primes of Quine-McCluskey texts). Immutable.
 */
public final class PrimeImplicants {

  /** The most inputs for which all primes are listed; a table of 3^n words is filled. */
  public static final int MOST_INPUTS = 13;

  private static final Comparator<Cube> FEW_LITERALS_FIRST =
      Comparator.comparingInt(Cube::literals)
          .thenComparingInt(Cube::fixed)
          .thenComparingInt(Cube::value)
          .thenComparingLong(Cube::outputs);

  private final OutputWords spec;
  private final List<Cube> cubes;

  private PrimeImplicants(OutputWords spec, List<Cube> cubes) {
    this.spec = spec;
    this.cubes = cubes;
  }

  /**
   * Lists the primes.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs
   * @return the primes
   * @throws IllegalArgumentException if there are no or too many tables, their inputs differ, or
   *     there are more than {@value #MOST_INPUTS} inputs
   */
  public static PrimeImplicants of(List<TruthTable> tables) {
    return of(OutputWords.of(tables));
  }

  static PrimeImplicants of(OutputWords spec) {
    if (spec.inputs() > MOST_INPUTS) {
      throw new IllegalArgumentException(
          "primes: the number of inputs must be in [0, "
              + MOST_INPUTS
              + "], found "
              + spec.inputs());
    }
    List<Cube> cubes = new TernaryPrimes(spec).primes();
    cubes.sort(FEW_LITERALS_FIRST);
    return new PrimeImplicants(spec, List.copyOf(cubes));
  }

  /**
   * Returns the primes.
   *
   * @return terms with few literals first; primes that hold don't-cares only are among them
   */
  public List<Cube> cubes() {
    return cubes;
  }

  /**
   * Returns the essential primes: those that alone hold some 1 of some output.
   *
   * @return a part of {@link #cubes}, in the same order
   */
  public List<Cube> essential() {
    CoveringProblem matrix = PrimeChart.of(spec, cubes);
    boolean[] alone = new boolean[cubes.size()];
    for (int[] row : matrix.rowList()) {
      if (row.length == 1) {
        alone[row[0]] = true;
      }
    }
    List<Cube> essential = new ArrayList<>();
    for (int c = 0; c < alone.length; c++) {
      if (alone[c]) {
        essential.add(cubes.get(c));
      }
    }
    return List.copyOf(essential);
  }
}

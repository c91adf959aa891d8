package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.covering.CoveringProblem;
import dev.lengthwise.logic.covering.CoveringSolver;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.OutputWords;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/**
 * Minimises sums of products with don't-cares, of one output or of several that share terms.
 *
 * <p>The first aim is the fewest product terms, the second, where cheap, the fewest input literals.
 * The exact way lists all primes and solves the covering problem (Quine-McCluskey with reductions,
 * Lagrangian bounds, local search, branch and bound); the heuristic way improves one cover by
 * expanding, thinning out and reducing its terms. Either way the result says what is proved.
 * Immutable; results depend on the tables and the seed only.
 */
public final class TwoLevelMinimizer {

  /** The most inputs of the exact way. */
  public static final int MOST_EXACT_INPUTS = 12;

  /** The most inputs of the heuristic way. */
  public static final int MOST_INPUTS = 20;

  /** Up to this many inputs {@link #automatic} works the exact way. */
  public static final int AUTOMATIC_EXACT_INPUTS = 9;

  private static final CoveringSolver.Effort FULL = new CoveringSolver.Effort(400_000, 600, 6_000);
  private static final CoveringSolver.Effort LITERALS = new CoveringSolver.Effort(3_000, 200, 400);
  private static final long MOST_CELLS_FOR_LITERALS = 150_000;

  /** A covering table takes two bits a cell; beyond this, the exact way gives way. */
  private static final long MOST_CELLS = 400_000_000;

  private static final int DEFAULT_PASSES = 24;

  /** Weighs a term against literals; above any sum of literals that is searched exactly. */
  static final int TERM_COST = 1 << 14;

  private enum Way {
    EXACT,
    HEURISTIC,
    AUTOMATIC
  }

  private final Way way;
  private final long seed;
  private final int passes;

  private TwoLevelMinimizer(Way way, long seed, int passes) {
    this.way = way;
    this.seed = seed;
    this.passes = passes;
  }

  /**
   * Returns a minimiser that works the exact way.
   *
   * <p>Where the primes are too many for a covering table it works the heuristic way after all, and
   * where the branching would take too long it stops; the result then is not {@linkplain
   * TwoLevelResult#proved proved}.
   *
   * @return for up to {@value #MOST_EXACT_INPUTS} inputs
   */
  public static TwoLevelMinimizer exact() {
    return new TwoLevelMinimizer(Way.EXACT, 1, 0);
  }

  /**
   * Returns a minimiser that works the heuristic way.
   *
   * @return for up to {@value #MOST_INPUTS} inputs, of seed 1 and 24 passes
   */
  public static TwoLevelMinimizer heuristic() {
    return new TwoLevelMinimizer(Way.HEURISTIC, 1, DEFAULT_PASSES);
  }

  /**
   * Returns a minimiser that works the exact way up to {@value #AUTOMATIC_EXACT_INPUTS} inputs and
   * the heuristic way beyond.
   *
   * @return for up to {@value #MOST_INPUTS} inputs
   */
  public static TwoLevelMinimizer automatic() {
    return new TwoLevelMinimizer(Way.AUTOMATIC, 1, DEFAULT_PASSES);
  }

  /**
   * Returns a minimiser with another seed of the heuristic way.
   *
   * @param newSeed any number
   * @return the minimiser
   */
  public TwoLevelMinimizer seed(long newSeed) {
    return new TwoLevelMinimizer(way, newSeed, passes);
  }

  /**
   * Returns a minimiser with another effort of the heuristic way.
   *
   * @param newPasses how often the terms are reduced and expanded again; at least 0
   * @return the minimiser
   * @throws IllegalArgumentException if the number is negative
   */
  public TwoLevelMinimizer passes(int newPasses) {
    if (newPasses < 0) {
      throw new IllegalArgumentException(
          "two-level minimiser: the number of passes must be at least 0, found " + newPasses);
    }
    return new TwoLevelMinimizer(way, seed, newPasses);
  }

  /**
   * Minimises all outputs together: a term that feeds several outputs counts once.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs
   * @return the cover and its bound
   * @throws IllegalArgumentException if there are no or too many tables, their inputs differ or are
   *     too many
   */
  public TwoLevelResult minimize(List<TruthTable> tables) {
    OutputWords spec = OutputWords.of(tables);
    boolean exact =
        way == Way.EXACT || (way == Way.AUTOMATIC && spec.inputs() <= AUTOMATIC_EXACT_INPUTS);
    int most = exact ? MOST_EXACT_INPUTS : MOST_INPUTS;
    if (spec.inputs() > most) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "two-level minimiser: the number of inputs must be in [0, %d], found %d",
              most,
              spec.inputs()));
    }
    return exact ? minimizeExactly(spec) : new ExpandReduceSearch(spec, seed).run(passes);
  }

  private TwoLevelResult minimizeExactly(OutputWords spec) {
    List<Cube> primes = PrimeImplicants.of(spec).cubes();
    if (spec.neededCount() * primes.size() > MOST_CELLS) {
      return new ExpandReduceSearch(spec, seed).run(Math.max(passes, DEFAULT_PASSES));
    }
    CoveringProblem matrix = PrimeChart.of(spec, primes);
    CoveringSolver.Solution terms = new CoveringSolver(FULL).solve(matrix, List.of());
    int[] costs = primes.stream().mapToInt(c -> TERM_COST + c.literals()).toArray();
    CoveringProblem weighted = matrix.withCost(costs);
    List<Integer> columns = weighted.cheapened(terms.columns());
    boolean fewest = false;
    if ((long) matrix.rows() * matrix.cols() <= MOST_CELLS_FOR_LITERALS) {
      CoveringSolver.Solution literals = new CoveringSolver(LITERALS).solve(weighted, columns);
      columns = literals.columns();
      fewest = literals.proved();
    }
    List<Cube> cubes =
        new CoverTrim(spec)
            .trim(columns.stream().map(primes::get).toList()).stream()
                .sorted(
                    Comparator.comparingInt(Cube::fixed)
                        .thenComparingInt(Cube::value)
                        .thenComparingLong(Cube::outputs))
                .toList();
    Cover cover = new Cover(spec.inputs(), spec.outputs(), cubes);
    return new TwoLevelResult(cover, terms.lowerBound(), fewest);
  }
}

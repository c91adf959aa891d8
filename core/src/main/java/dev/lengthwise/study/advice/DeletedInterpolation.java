package dev.lengthwise.study.advice;

import dev.lengthwise.work.Work;
import java.util.Arrays;

/**
 * Finds in what parts to mix several estimates of how frequent symbols are, so that the mixture
 * foretells data best that no estimate was made from.
 *
 * <p>The data is divided in folds. For each fold, the estimates are made from the other folds, and
 * the parts are those with which the mixtures give the folds the greatest likelihood. They are
 * found by expectation maximisation, which rises to the greatest, as the logarithm of the
 * likelihood is concave in the parts. Deleted interpolation is Jelinek and Mercer's ("Interpolated
 * estimation of Markov source parameters from sparse data", Pattern Recognition in Practice, 1980);
 * that the likelihood rises with every round is Dempster, Laird and Rubin's theorem 1 ("Maximum
 * likelihood from incomplete data via the EM algorithm", J. Royal Statistical Society B 39, 1977).
 * Both are cited from memory.
 */
final class DeletedInterpolation {

  private static final int MOST_ROUNDS = 10_000;

  private static final double STILL = 1e-10;

  private DeletedInterpolation() {}

  /** What is in one fold, and what the others say of it. */
  static final class Fold {

    private final double[] frequency;
    private final double[][] estimates;

    /**
     * Takes arrays that nobody else changes.
     *
     * @param frequency of each symbol
     * @param estimates of each symbol's share, estimate by estimate
     */
    Fold(double[] frequency, double[][] estimates) {
      this.frequency = frequency;
      this.estimates = estimates;
    }

    double frequency(int symbol) {
      return frequency[symbol];
    }

    double estimate(int estimate, int symbol) {
      return estimates[estimate][symbol];
    }

    int symbols() {
      return frequency.length;
    }
  }

  /**
   * Returns the parts.
   *
   * @param folds for each the frequencies of the symbols in it, and the estimates of them
   * @param estimates how many estimates there are in each
   * @return as many parts, each in [0, 1], in sum 1
   */
  static double[] parts(Iterable<Fold> folds, int estimates) {
    double[] parts = new double[estimates];
    Arrays.fill(parts, 1.0 / estimates);
    double moved = 1;
    for (int round = 0; round < MOST_ROUNDS && moved > STILL; round++) {
      double[] next = round(folds, parts);
      moved = 0;
      for (int e = 0; e < estimates; e++) {
        moved = Math.max(moved, Math.abs(next[e] - parts[e]));
      }
      parts = next;
    }
    return parts;
  }

  /** Shares out each symbol among the estimates by how much each gives it. */
  private static double[] round(Iterable<Fold> folds, double[] parts) {
    double[] next = new double[parts.length];
    for (Fold fold : folds) {
      Work.check();
      for (int symbol = 0; symbol < fold.symbols(); symbol++) {
        double mixed = 0;
        for (int e = 0; e < parts.length; e++) {
          mixed += parts[e] * fold.estimate(e, symbol);
        }
        for (int e = 0; e < parts.length && mixed > 0; e++) {
          next[e] += fold.frequency(symbol) * parts[e] * fold.estimate(e, symbol) / mixed;
        }
      }
    }
    double sum = Arrays.stream(next).sum();
    return sum > 0 ? Arrays.stream(next).map(n -> n / sum).toArray() : parts;
  }
}

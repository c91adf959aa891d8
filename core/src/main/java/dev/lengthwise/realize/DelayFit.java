package dev.lengthwise.realize;

import java.util.Arrays;

/**
 * Fits delays, none below 0, to periods that are sums of them. Errors count by their share of the
 * period, those far off by their size and not its square, so that a few wrong figures change
 * little.
 */
final class DelayFit {

  private static final int ROUNDS = 50;

  /** Where errors begin to count by their size, in typical errors; common practice, no source. */
  private static final double FAR = 1.345;

  /** A typical error is so often the median of errors that are normal. */
  private static final double OF_MEDIAN = 1.483;

  /** Less typical error than any flow has, so that exact figures do not divide by 0. */
  private static final double LEAST_ERROR = 1e-6;

  private static final double SINGULAR = 1e-9;

  private DelayFit() {}

  /**
   * Returns the delays.
   *
   * @param counts how often each delay is in each period
   * @param periods above 0
   */
  static double[] of(double[][] counts, double[] periods) {
    int delays = counts[0].length;
    double[] best = new double[delays];
    double least = Double.POSITIVE_INFINITY;
    // All choices of delays that are not 0, the larger first: there are few.
    for (int chosen = (1 << delays) - 1; chosen > 0; chosen--) {
      double[] fitted = robust(counts, periods, chosen);
      if (fitted.length > 0 && Arrays.stream(fitted).allMatch(delay -> delay >= 0)) {
        double loss = loss(errors(counts, periods, fitted));
        if (loss < least * (1 - SINGULAR)) {
          least = loss;
          best = fitted;
        }
      }
    }
    return best;
  }

  static double dot(double[] counts, double[] delays) {
    double sum = 0;
    for (int i = 0; i < counts.length; i++) {
      sum += counts[i] * delays[i];
    }
    return sum;
  }

  /** Weighs errors anew until weights settle; returns nothing if the choice cannot be told. */
  private static double[] robust(double[][] counts, double[] periods, int chosen) {
    double[] weights = new double[periods.length];
    Arrays.fill(weights, 1);
    double[] fitted = {};
    for (int round = 0; round < ROUNDS; round++) {
      fitted = squares(counts, periods, weights, chosen);
      if (fitted.length == 0) {
        return fitted;
      }
      double[] errors = errors(counts, periods, fitted);
      double far = FAR * typical(errors);
      for (int i = 0; i < errors.length; i++) {
        weights[i] = Math.min(1, far / Math.max(far, errors[i]));
      }
    }
    return fitted;
  }

  private static double typical(double[] errors) {
    double[] sorted = errors.clone();
    Arrays.sort(sorted);
    return Math.max(LEAST_ERROR, OF_MEDIAN * sorted[sorted.length / 2]);
  }

  /** The sum of sizes, which no single error rules. */
  private static double loss(double[] errors) {
    return Arrays.stream(errors).sum();
  }

  private static double[] errors(double[][] counts, double[] periods, double[] delays) {
    double[] errors = new double[periods.length];
    for (int i = 0; i < errors.length; i++) {
      errors[i] = Math.abs(dot(counts[i], delays) / periods[i] - 1);
    }
    return errors;
  }

  /** Least squares of some of the delays, the others 0. */
  private static double[] squares(
      double[][] counts, double[] periods, double[] weights, int chosen) {
    int delays = counts[0].length;
    double[][] equations = new double[delays][delays + 1];
    for (int row = 0; row < delays; row++) {
      if ((chosen >> row & 1) == 0) {
        equations[row][row] = 1;
        continue;
      }
      for (int i = 0; i < periods.length; i++) {
        double scaled = weights[i] * counts[i][row] / (periods[i] * periods[i]);
        for (int column = 0; column < delays; column++) {
          equations[row][column] += (chosen >> column & 1) * scaled * counts[i][column];
        }
        equations[row][delays] += scaled * periods[i];
      }
    }
    return solved(equations);
  }

  /** Elimination by the largest; nothing if the equations do not tell. */
  private static double[] solved(double[][] equations) {
    int size = equations.length;
    for (int step = 0; step < size; step++) {
      int largest = step;
      for (int row = step + 1; row < size; row++) {
        if (Math.abs(equations[row][step]) > Math.abs(equations[largest][step])) {
          largest = row;
        }
      }
      double[] pivot = equations[largest];
      equations[largest] = equations[step];
      equations[step] = pivot;
      if (Math.abs(pivot[step]) < SINGULAR) {
        return new double[0];
      }
      for (int row = 0; row < size; row++) {
        double times = row == step ? 0 : equations[row][step] / pivot[step];
        for (int column = step; column <= size; column++) {
          equations[row][column] -= times * pivot[column];
        }
      }
    }
    double[] values = new double[size];
    for (int i = 0; i < size; i++) {
      values[i] = equations[i][size] / equations[i][i];
    }
    return values;
  }
}

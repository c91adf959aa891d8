package dev.lengthwise.study.advice;

import static com.google.common.truth.Truth.assertThat;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class DeletedInterpolationTest {

  /** Of estimates that share no symbol, each gets the frequency of its own symbols. */
  @Test
  void parts_estimatesApart_areTheFrequencies() {
    double[][] estimates = {{1, 0, 0}, {0, 0.25, 0.75}};
    double[] parts =
        DeletedInterpolation.parts(
            List.of(new DeletedInterpolation.Fold(new double[] {0.3, 0.6, 0.1}, estimates)), 2);
    assertThat(parts[0]).isWithin(1e-9).of(0.3);
    assertThat(parts[1]).isWithin(1e-9).of(0.7);
  }

  /**
   * At the greatest likelihood, a part's derivative is the sum of all frequencies where the part is
   * more than 0, and at most that where it is 0: the Kuhn-Tucker conditions (Cover and Thomas,
   * "Elements of Information Theory", on log-optimal portfolios; from memory).
   */
  @Test
  void parts_randomEstimates_meetTheConditionsOfTheGreatestLikelihood() {
    Random random = new Random(5);
    for (int round = 0; round < 20; round++) {
      List<DeletedInterpolation.Fold> folds =
          List.of(fold(random, 12), fold(random, 12), fold(random, 12));
      double[] parts = DeletedInterpolation.parts(folds, 3);
      assertThat(parts[0] + parts[1] + parts[2]).isWithin(1e-9).of(1);
      for (int e = 0; e < 3; e++) {
        double derivative = 0;
        for (DeletedInterpolation.Fold fold : folds) {
          for (int s = 0; s < 12; s++) {
            double mixed = 0;
            for (int other = 0; other < 3; other++) {
              mixed += parts[other] * fold.estimate(other, s);
            }
            derivative += fold.frequency(s) * fold.estimate(e, s) / mixed;
          }
        }
        if (parts[e] > 1e-4) {
          assertThat(derivative).isWithin(1e-3).of(3);
        } else {
          assertThat(derivative).isLessThan(3 + 1e-3);
        }
      }
    }
  }

  @Test
  void parts_nothingToForetell_areEven() {
    double[] parts =
        DeletedInterpolation.parts(
            List.of(new DeletedInterpolation.Fold(new double[1], new double[2][1])), 2);
    assertThat(parts).usingExactEquality().containsExactly(0.5, 0.5).inOrder();
  }

  private static DeletedInterpolation.Fold fold(Random random, int symbols) {
    return new DeletedInterpolation.Fold(
        shares(random, symbols),
        new double[][] {shares(random, symbols), shares(random, symbols), shares(random, symbols)});
  }

  private static double[] shares(Random random, int symbols) {
    double[] shares = random.doubles(symbols).map(d -> d * d).toArray();
    double sum = 0;
    for (double share : shares) {
      sum += share;
    }
    for (int s = 0; s < symbols; s++) {
      shares[s] /= sum;
    }
    return shares;
  }
}

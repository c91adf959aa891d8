package dev.lengthwise.logic.covering;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;

@Slow
class CoveringSolverTest {

  /** No local search worth the name and few bound steps, so that branching has to find it. */
  private static final CoveringSolver.Effort BRANCHING = new CoveringSolver.Effort(1, 3, 100_000);

  private static final CoveringSolver.Effort SEARCHING = new CoveringSolver.Effort(20_000, 300, 0);

  private static CoveringProblem random(long seed, int rows, int cols, int mostCost) {
    Random random = new Random(seed);
    List<List<Integer>> lists = new ArrayList<>();
    int[] cost = new int[cols];
    for (int c = 0; c < cols; c++) {
      lists.add(new ArrayList<>());
      cost[c] = 1 + random.nextInt(mostCost);
    }
    for (int r = 0; r < rows; r++) {
      int always = random.nextInt(cols);
      for (int c = 0; c < cols; c++) {
        if (c == always || random.nextInt(4) == 0) {
          lists.get(c).add(r);
        }
      }
    }
    int[][] colList =
        lists.stream().map(list -> list.stream().mapToInt(r -> r).toArray()).toArray(int[][]::new);
    return CoveringProblem.of(rows, colList, cost);
  }

  private static int bruteForce(CoveringProblem matrix) {
    int best = Integer.MAX_VALUE;
    for (int set = 0; set < 1 << matrix.cols(); set++) {
      int cost = 0;
      long[] rows = BitSet64.all(matrix.rows());
      for (int c = 0; c < matrix.cols(); c++) {
        if ((set >>> c & 1) != 0) {
          cost += matrix.cost(c);
          BitSet64.drop(rows, matrix.colRows(c));
        }
      }
      if (BitSet64.isEmpty(rows)) {
        best = Math.min(best, cost);
      }
    }
    return best;
  }

  private static boolean satisfies(CoveringProblem matrix, List<Integer> columns) {
    long[] rows = BitSet64.all(matrix.rows());
    columns.forEach(c -> BitSet64.drop(rows, matrix.colRows(c)));
    return BitSet64.isEmpty(rows);
  }

  @Property(tries = 300, seed = "1")
  void solve_smallProblem_equalsBruteForce(
      @ForAll long seed,
      @ForAll @IntRange(min = 1, max = 40) int rows,
      @ForAll @IntRange(min = 1, max = 12) int cols,
      @ForAll @IntRange(min = 1, max = 5) int mostCost) {
    CoveringProblem matrix = random(seed, rows, cols, mostCost);
    CoveringSolver.Solution solution = new CoveringSolver(BRANCHING).solve(matrix, List.of());
    assertThat(satisfies(matrix, solution.columns())).isTrue();
    assertThat(solution.cost()).isEqualTo(bruteForce(matrix));
    assertThat(solution.proved()).isTrue();
  }

  @Property(tries = 40, seed = "1")
  void solve_middlingProblem_boundAndSearchBracketTheProvedOptimum(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 3) int mostCost) {
    CoveringProblem matrix = random(seed, 60, 40, mostCost);
    CoveringSolver.Solution proved = new CoveringSolver(BRANCHING).solve(matrix, List.of());
    CoveringSolver.Solution searched = new CoveringSolver(SEARCHING).solve(matrix, List.of());
    assertThat(proved.proved()).isTrue();
    assertThat(satisfies(matrix, searched.columns())).isTrue();
    assertThat(searched.cost()).isAtLeast(proved.cost());
    assertThat(searched.lowerBound()).isAtMost(proved.cost());
  }

  /**
   * The incidence matrix of the Steiner triple system of order 9, whose least cover is 5 while the
   * linear relaxation is 3 (D. Fulkerson, G. Nemhauser, L. Trotter, 1974, from memory): only
   * branching can prove it.
   */
  @Test
  void solve_steinerTriplesOfNine_takesFive() {
    int[][] lines = {
      {0, 1, 2}, {3, 4, 5}, {6, 7, 8}, {0, 3, 6}, {1, 4, 7}, {2, 5, 8},
      {0, 4, 8}, {1, 5, 6}, {2, 3, 7}, {0, 5, 7}, {1, 3, 8}, {2, 4, 6}
    };
    int[][] linesOfPoint = new int[9][4];
    int[] filled = new int[9];
    int[] cost = new int[9];
    for (int line = 0; line < lines.length; line++) {
      for (int point : lines[line]) {
        linesOfPoint[point][filled[point]++] = line;
        cost[point] = 1;
      }
    }
    CoveringProblem matrix = CoveringProblem.of(lines.length, linesOfPoint, cost);
    CoveringSolver.Solution solution = new CoveringSolver(BRANCHING).solve(matrix, List.of());
    assertThat(solution.cost()).isEqualTo(5);
    assertThat(solution.proved()).isTrue();
    CoveringSolver.Solution unproved = new CoveringSolver(SEARCHING).solve(matrix, List.of());
    assertThat(unproved.cost()).isEqualTo(5);
    assertThat(unproved.lowerBound()).isEqualTo(3);
    assertThat(unproved.proved()).isFalse();
    CoveringSolver.Effort twoNodes = new CoveringSolver.Effort(20_000, 300, 4);
    CoveringSolver.Solution stopped = new CoveringSolver(twoNodes).solve(matrix, List.of());
    assertThat(stopped.lowerBound()).isEqualTo(3);
    assertThat(stopped.proved()).isFalse();
  }
}

package dev.lengthwise.logic.exact;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.sat.Sat;
import java.util.List;
import org.junit.jupiter.api.Test;

class RelationSynthesisTest {

  @Test
  void solve_fourWayMuxInTwoFourInputLuts_isFound() {
    // Inputs d0..d3, s0, s1. The first LUT folds s0 and s1 into a code of its own.
    TruthTable mux = TruthTable.of(6, p -> (p >> (p >> 4) & 1) != 0);
    Wiring wiring = new Wiring(6, new int[][] {{0, 1, 4, 5}, {2, 3, 5, 6}}, new int[] {7});
    RelationSynthesis.Result result =
        RelationSynthesis.solve(wiring, Relation.of(List.of(mux)), 100_000);
    assertThat(result.verdict()).isEqualTo(Sat.Verdict.SATISFIABLE);
  }

  @Test
  void solve_eightWayMuxInTwoLuts_isImpossible() {
    TruthTable mux = TruthTable.of(11, p -> (p >> (p >> 8) & 1) != 0);
    Wiring wiring =
        new Wiring(11, new int[][] {{0, 1, 2, 3, 8, 9}, {4, 5, 6, 7, 10, 11}}, new int[] {12});
    RelationSynthesis.Result result =
        RelationSynthesis.solve(wiring, Relation.of(List.of(mux)), 100_000);
    assertThat(result.verdict()).isEqualTo(Sat.Verdict.UNSATISFIABLE);
  }
}

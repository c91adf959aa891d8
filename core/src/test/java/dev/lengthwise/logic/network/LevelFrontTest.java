package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

/** Fronts of pairs: LUTs and levels. */
class LevelFrontTest {

  private static List<List<Integer>> front(int mostLevels) {
    return LevelFront.of(
        List.of(10, 6),
        mostLevels,
        pair -> pair.get(0),
        pair -> pair.get(1),
        levels ->
            switch (levels) {
              case 5 -> List.of(12, 4); // a level less than was asked for
              case 3 -> List.of(11, 3); // fewer LUTs than what has more levels
              case 2 -> List.of(20, 2);
              default -> List.of(20, 2); // none in one level
            });
  }

  @Test
  void of_fewerAndFewerLevels_keepsWhatNoneIsBetterThan() {
    assertThat(front(Integer.MAX_VALUE))
        .containsExactly(List.of(10, 6), List.of(11, 3), List.of(20, 2))
        .inOrder();
  }

  @Test
  void of_noneWithinTheLevels_isTheSmallestAlone() {
    assertThat(front(5)).containsExactly(List.of(10, 6));
  }
}

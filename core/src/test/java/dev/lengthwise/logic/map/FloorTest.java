package dev.lengthwise.logic.map;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import java.util.List;
import org.junit.jupiter.api.Test;

class FloorTest {

  @Test
  void of_parityOfEight_twoLutsOfSixInTwoLevels() {
    TruthTables parity =
        TruthTables.of(List.of(TruthTable.of(8, p -> Integer.bitCount(p) % 2 != 0)));
    assertThat(Floor.of(parity, 6)).isEqualTo(new Floor(2, 2));
    assertThat(Floor.of(parity, 4)).isEqualTo(new Floor(3, 2));
  }

  @Test
  void of_outputsThatAreEqualConstantOrInputs_countsTheOthersOnce() {
    TruthTable and = TruthTable.of(2, p -> p == 3);
    TruthTables function =
        TruthTables.of(
            List.of(
                and,
                and,
                TruthTable.of(2, p -> p != 0),
                TruthTable.of(2, p -> true),
                TruthTable.of(2, p -> (p & 1) != 0)));
    assertThat(Floor.of(function, 4)).isEqualTo(new Floor(2, 1));
  }

  @Test
  void of_openPoints_saysNothing() {
    TruthTables open = TruthTables.of(List.of(TruthTable.parse("01-1")));
    assertThat(Floor.of(open, 4)).isEqualTo(new Floor(0, 0));
  }
}

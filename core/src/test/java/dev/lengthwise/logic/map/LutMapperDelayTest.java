package dev.lengthwise.logic.map;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.testing.Slow;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

@Slow
class LutMapperDelayTest {

  private static final int INPUTS = 5;

  private static TruthTables random(int seed) {
    Random random = new Random(seed);
    return TruthTables.of(List.of(TruthTable.of(INPUTS, p -> random.nextBoolean())));
  }

  @Test
  void map_oneInputLate_endsNearTheOutput() {
    TruthTables function = random(1);
    DelayModel late = DelayModel.LEVELS.withArrivals(0, 0, 3);
    LutNetwork network =
        LutMapper.forInputs(4).withObjective(Objective.DEPTH).withDelays(late).map(function);
    // Two functions of four inputs take a level, and one LUT chooses between them.
    assertThat(late.delay(network)).isEqualTo(4);
    assertThat(network.table(0)).isEqualTo(function.outputs().get(0));
  }
}

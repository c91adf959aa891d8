package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import org.junit.jupiter.api.Test;

/**
 * Random tables of nine inputs and three outputs, ours beside the best of several Yosys scripts:
 * two of the twenty in every build.
 */
@CallsTools
class RandomTablesTest {

  private static final DeviceProfile SIX = DeviceProfile.sixInputDualOutput();
  private static final DeviceProfile FOUR = DeviceProfile.fourInput();

  @Test
  void map_randomTables_takeNoMoreThanTheToolAndTenPercentFewerInAll() {
    int ours = 0;
    int tool = 0;
    for (int seed = 1; seed <= Extent.of(2, 20); seed++) {
      MappingPair pair = MappingPair.of(MappedFunction.Tables.random(seed), SIX, Effort.QUICK);
      assertWithMessage("seed %s", seed).that(pair.ours().luts()).isAtMost(pair.tool().luts());
      ours += pair.ours().luts();
      tool += pair.tool().luts();
    }
    assertThat(10 * ours).isAtMost(9 * tool);
  }

  @Test
  void map_randomTablesInFourInputLuts_takeNoMoreThanTheTool() {
    int ours = 0;
    int tool = 0;
    for (int seed = 1; seed <= Extent.of(1, 2); seed++) {
      MappingPair pair = MappingPair.of(MappedFunction.Tables.random(seed), FOUR, Effort.QUICK);
      assertWithMessage("seed %s", seed).that(pair.ours().luts()).isAtMost(pair.tool().luts());
      ours += pair.ours().luts();
      tool += pair.tool().luts();
    }
    assertThat(10 * ours).isAtMost(9 * tool);
  }
}

package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.List;
import org.junit.jupiter.api.Test;

@Slow
class RealizerTest {

  private static final Realizer AREA =
      Realizer.on(DeviceProfile.sixInputDualOutput()).withObjective(Objective.AREA);

  private static BlockCost total(Realizer realizer) {
    return realizer
        .realize(Predecoder.builder(SampleSets.bytes()).build(), Style.LUT_NETWORK)
        .total();
  }

  @Test
  void withMostLevels_belowWhatAreaTakes_fewerLevelsAndProved() {
    BlockCost free = total(AREA);
    BlockCost bound = total(AREA.withMostLevels(free.levels() - 1));
    assertThat(bound.levels()).isLessThan(free.levels());
    assertThat(bound.proved()).isTrue();
    assertThat(total(AREA.withMostLevels(free.levels()))).isEqualTo(free);
  }

  @Test
  void front_lane_provedInFewerLevelsForMoreLuts() {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    List<BlockCost> front = AREA.front(lane).stream().map(Design::total).toList();
    assertThat(front.size()).isAtLeast(2);
    for (int i = 0; i < front.size(); i++) {
      assertThat(front.get(i).proved()).isTrue();
      if (i > 0) {
        assertThat(front.get(i).levels()).isLessThan(front.get(i - 1).levels());
        assertThat(front.get(i).luts()).isGreaterThan(front.get(i - 1).luts());
      }
    }
  }

  @Test
  void withMostLevels_none_isRejected() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> AREA.withMostLevels(0)))
        .hasMessageThat()
        .isEqualTo("realizer: the most levels must be at least 1, found 0");
  }
}

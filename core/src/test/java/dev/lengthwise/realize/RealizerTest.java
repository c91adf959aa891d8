package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Realizer.TimedDesign;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.Slow;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;

@Slow
class RealizerTest {

  private static final Realizer AREA =
      Realizer.on(DeviceProfile.sixInputDualOutput()).withObjective(Objective.AREA);

  private static BlockCost total(Realizer realizer) {
    return realizer.realize(small(), Style.LUT_NETWORK).total();
  }

  @Test
  void withMostLevels_belowWhatAreaTakes_fewerLevelsAndProved() {
    BlockCost free = total(AREA);
    BlockCost bound = total(AREA.withMostLevels(free.levels() - 1));
    assertThat(bound.levels()).isLessThan(free.levels());
    assertThat(bound.proved()).isTrue();
    assertThat(total(AREA.withMostLevels(free.levels()))).isEqualTo(free);
  }

  /** A set of one map and a mode, whose lane is small enough to be mapped over and over. */
  private static Predecoder small() {
    LengthTable table =
        LengthTable.named("paddle")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x26)
                        .bytes(1)
                        .rows(0x27, 0x5a)
                        .bytes(2)
                        .grows("wide", 1)
                        .rows(0x5b, 0xb3)
                        .bytes(3)
                        .rows(0xb4, 0xd0)
                        .bytes(1)
                        .grows("wide", 2)
                        .others()
                        .undefined())
            .build();
    return Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE, 4)).build();
  }

  @Test
  void front_lane_provedInFewerLevelsForMoreLuts() {
    List<BlockCost> front = AREA.front(small()).stream().map(Design::total).toList();
    for (int i = 0; i < front.size(); i++) {
      assertThat(front.get(i).proved()).isTrue();
      if (i > 0) {
        assertThat(front.get(i).levels()).isLessThan(front.get(i - 1).levels());
        assertThat(front.get(i).luts()).isGreaterThan(front.get(i - 1).luts());
      }
    }
    BlockCost free = AREA.realize(small(), Style.LUT_NETWORK).total();
    assertThat(front.get(0).luts()).isAtMost(free.luts());
  }

  @Test
  void front_noneWithinTheLevels_isTheSmallestAlone() {
    List<Design> front = AREA.withMostLevels(1).front(small());
    assertThat(front).hasSize(1);
    assertThat(front.get(0).total().levels()).isGreaterThan(1);
  }

  @Test
  void withMostLevels_none_isRejected() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> AREA.withMostLevels(0)))
        .hasMessageThat()
        .isEqualTo("realizer: the most levels must be at least 1, found 0");
  }

  @Test
  void realizeFor_aSecond_isNoLargerAndSaysWhatItTried() {
    TimedDesign timed = AREA.realizeFor(small(), Duration.ofSeconds(1));
    int first = AREA.realize(small(), Style.LUT_NETWORK).total().luts();
    BlockCost total = timed.design().total();
    assertThat(total.proved()).isTrue();
    assertThat(total.luts()).isAtMost(first);
    assertThat(timed.interrupted()).isFalse();
    assertThat(timed.account().get(0)).startsWith(small().name() + ", first: " + first + " LUTs, ");
    assertThat(timed.account().get(timed.account().size() - 1))
        .endsWith("of new starts, until the time was over");
  }

  @Test
  void realizeFor_noTime_isRejected() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> AREA.realizeFor(small(), Duration.ZERO)))
        .hasMessageThat()
        .isEqualTo("realizer: the time must be above 0, found PT0S");
  }
}

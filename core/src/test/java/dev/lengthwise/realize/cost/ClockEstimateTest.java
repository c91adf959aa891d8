package dev.lengthwise.realize.cost;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.device.DeviceProfile.DelayRange;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.CoreSamples;
import java.util.List;
import org.junit.jupiter.api.Test;

class ClockEstimateTest {

  @Test
  void clock_isThatOfTheLevels_fromARegisterOrARam() {
    DeviceProfile device =
        DeviceProfile.sixInputDualOutput().toBuilder()
            .registerDelay(1, 2)
            .levelDelay(1, 1.5)
            .blockRamDelay(3, 4)
            .build();
    Realizer realizer = Realizer.on(device);
    for (Design design :
        List.of(
            realizer.realize(CoreSamples.lane(), Style.ROM),
            realizer.realize(CoreSamples.row(), Style.ROM))) {
      int levels = design.total().levels();
      ClockEstimate clock = design.clock();
      assertThat(clock.period()).isEqualTo(new DelayRange(1 + levels, 2 + 1.5 * levels));
      assertThat(clock.path()).isEqualTo(design.criticalPath());
    }
    Design unit = realizer.realize(CoreSamples.unit(), Style.ROM);
    assertThat(unit.clock().period())
        .isEqualTo(new DelayRange(3 + unit.total().levels(), 4 + 1.5 * unit.total().levels()));
  }

  /** What the open flow made of random tables, as the profile says, five seeds each. */
  @Test
  void fourInput_holdsWhatWasMeasured() {
    DeviceProfile device = DeviceProfile.fourInput();
    double[][] measured = {{1, 1.60}, {3, 3.40}, {5, 5.40}, {8, 8.32}, {10, 9.85}, {11, 10.98}};
    for (double[] pair : measured) {
      ClockEstimate clock =
          ClockEstimate.of(
              device.registerDelay(),
              device.levelDelay(),
              List.of(new PathStep("LUTs", (int) pair[0])));
      assertThat(clock.period().fastest()).isAtMost(pair[1]);
      assertThat(clock.period().slowest()).isAtLeast(pair[1]);
    }
  }

  @Test
  void toString_isARange_andWrongOnesAreRefused() {
    List<PathStep> path = List.of(new PathStep("LUT", 2));
    DelayRange half = new DelayRange(0.5, 1);
    ClockEstimate clock = ClockEstimate.of(half, half, path);
    assertThat(clock.toString()).isEqualTo("333.3 to 666.7 MHz");
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new ClockEstimate(new DelayRange(0, 1), path)))
        .hasMessageThat()
        .isEqualTo("clock estimate: the fastest period must be above 0 ns, found 0");
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> new ClockEstimate(half, List.of())))
        .hasMessageThat()
        .isEqualTo("clock estimate: a path is expected, found none");
  }
}

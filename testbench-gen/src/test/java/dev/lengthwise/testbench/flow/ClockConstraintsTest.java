package dev.lengthwise.testbench.flow;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.CoreSamples;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ClockConstraintsTest {

  private static final Realizer REALIZER = Realizer.on(DeviceProfile.sixInput());

  @TempDir Path folder;

  @Test
  void file_ofARow_hasItsClockAndWhatStandsStill() {
    Design row = REALIZER.realize(CoreSamples.row(), Style.ROM);
    OutputFile file = ClockConstraints.of(8.5).withStill("stall").files(row).get(0);
    assertThat(file.path()).isEqualTo("constraints/" + row.name() + ".sdc");
    assertThat(file.text())
        .isEqualTo(
            """
            create_clock -name clock -period 8.500 [get_ports {clock}]
            set_false_path -from [get_ports {stall}]
            """);
    assertThat(ClockConstraints.megahertz(folder, row.name())).isEqualTo("400.000");
    OutputTree.at(folder).add(ClockConstraints.of(8)).write(row);
    assertThat(ClockConstraints.megahertz(folder, row.name())).isEqualTo("125.000");
  }

  @Test
  void files_ofALane_areNone() {
    Design lane = REALIZER.realize(CoreSamples.lane(), Style.ROM);
    assertThat(ClockConstraints.of(8).files(lane)).isEmpty();
  }

  @Test
  void wrongCalls_areRefused() {
    Design row = REALIZER.realize(CoreSamples.row(), Style.ROM);
    for (double period : new double[] {0, -1, Double.NaN, 2e6}) {
      assertThat(
              assertThrows(IllegalArgumentException.class, () -> ClockConstraints.of(period))
                  .getMessage())
          .isEqualTo("clock constraints: a period must be in [0.001, 1e6] ns, found " + period);
    }
    ClockConstraints stall = ClockConstraints.of(8).withStill("stall");
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> stall.withStill("stall"))
                .getMessage())
        .isEqualTo("clock constraints: an input is given once, found stall again");
    assertThat(
            assertThrows(IllegalStateException.class, () -> stall.withStill("nosuch").files(row))
                .getMessage())
        .isEqualTo("clock constraints: an input of " + row.name() + " is expected, found nosuch");
  }
}

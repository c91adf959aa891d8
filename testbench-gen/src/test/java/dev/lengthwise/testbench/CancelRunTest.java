package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.vector.ArrayVectors;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testbench.yardstick.Yosys;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Interruption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Runs of simulators and tools end soon when their thread is interrupted. */
@CallsTools
class CancelRunTest {

  private static final int SOON = 200;

  @TempDir Path folder;

  @Test
  void builtInSimulator_ends() throws Exception {
    Predecoder lane = Predecoder.builder(dev.lengthwise.isa.Ia32.instructionSet()).build();
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
    Interruption.assertEnds(
        "vectors",
        SOON,
        () -> {
          while (true) {
            BuiltInSimulator.run(design, LaneVectors.of(lane, LaneVectors.RANDOM, 1));
          }
        });
    LaneArray row = LaneArray.builder(lane, 8).build();
    Design lanes = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(row, design);
    Interruption.assertEnds(
        "cycles",
        SOON,
        () -> BuiltInSimulator.run(lanes, ArrayVectors.random(row, 1_000_000_000, 1)));
  }

  /** A program that starts another and waits for it, and says their ids. */
  private Path slow() throws Exception {
    Path program =
        Files.writeString(
            folder.resolve("slow"),
            "#!/bin/sh\nsleep 60 &\necho $! $$ > ids.part; mv ids.part "
                + folder.resolve("ids")
                + "\nwait\n");
    return Files.setPosixFilePermissions(program, PosixFilePermissions.fromString("rwx------"));
  }

  private void assertNoneRuns() throws Exception {
    for (String id : Files.readString(folder.resolve("ids")).trim().split(" ", -1)) {
      long end = System.nanoTime() + 5_000_000_000L;
      while (isRunning(Long.parseLong(id)) && System.nanoTime() < end) {
        Thread.sleep(10);
      }
      assertThat(isRunning(Long.parseLong(id))).isFalse();
    }
  }

  /** One that has ended, and that nobody has waited for yet, runs no more. */
  private static boolean isRunning(long id) throws Exception {
    Path status = Path.of("/proc", Long.toString(id), "stat");
    return Files.exists(status) && !Files.readString(status).contains(") Z ");
  }

  @Test
  void tool_endsWithWhatItHasStarted() throws Exception {
    String program = slow().toString();
    Interruption.assertEnds(
        "a tool", 600, () -> ToolRun.of("coreutils", folder, 60, List.of(program)));
    assertNoneRuns();
  }

  @Test
  void yosys_endsWithAllItsScripts() throws Exception {
    Yosys yosys = new Yosys(slow().toString());
    Interruption.assertEnds("yosys", 600, () -> yosys.all("module m; endmodule\n", 6));
    assertNoneRuns();
  }
}

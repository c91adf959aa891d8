package dev.lengthwise.examples.timing;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import dev.lengthwise.verilog.Verilog;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is measured is the same function by hand and by us (Debian package yosys). */
@CallsTools
class TimedLaneTest {

  @TempDir Path folder;

  @Test
  void textByHand_ofRiscv_isTheLane() throws Exception {
    TimedLane riscv = TimedLane.all().get("riscv").get();
    String lane =
        new Verilog()
                .files(
                    Realizer.on(DeviceProfile.fourInput())
                        .realize(riscv.lane(), Style.ROM)
                        .circuit())
                .stream()
                .filter(file -> file.path().endsWith(".v"))
                .map(OutputFile::text)
                .collect(Collectors.joining());
    Files.writeString(folder.resolve("both.v"), lane + riscv.text());
    Tool.named("yosys", "yosys")
        .runIn(
            folder,
            60,
            "-q",
            "-p",
            "read_verilog both.v; hierarchy -check; proc; flatten; miter -equiv -flatten"
                + " riscv_lane riscv_by_hand both; sat -verify -prove trigger 0 both");
  }

  /**
   * Lengths by number: MCS-51's INC A (04), MOV direct,#data (75) and LJMP (02) of its user's
   * manual, and the virtual machine's iconst_0 (03), bipush (10) and invokeinterface (b9), which
   * its specification, chapter 6, gives four bytes behind it.
   */
  @Test
  void lengths_areThoseOfTheManuals() {
    Map<String, int[][]> known =
        Map.of(
            "mcs51", new int[][] {{0x04, 1}, {0x75, 3}, {0x02, 3}, {0xa5, 0}},
            "jvm", new int[][] {{0x03, 1}, {0x10, 2}, {0xb9, 5}, {0xaa, 0}});
    known.forEach(
        (name, pairs) -> {
          GoldenModel model =
              GoldenModel.of(TimedLane.all().get(name).get().lane().instructionSet());
          for (int[] pair : pairs) {
            byte[] memory = new byte[8];
            memory[0] = (byte) pair[0];
            assertWithMessage("%s %s", name, pair[0])
                .that(model.lengthAt(0, memory, 0, memory.length))
                .isEqualTo(pair[1]);
          }
        });
    assertThat(TimedLane.all()).hasSize(8);
  }
}

package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.ReferenceLane;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Our LUTs beside the best of several Yosys scripts, in the same run. Every build maps one of the
 * reference maps in LUTs of four inputs, and the lane with both, {@code -Dwhole=true} both maps and
 * the lane that has only the one as well.
 */
@CallsTools
class MappingTest {

  private static final DeviceProfile SIX = DeviceProfile.sixInputDualOutput();
  private static final DeviceProfile FOUR = DeviceProfile.fourInput();
  private static final ReferenceLane REFERENCE = ReferenceLane.read();

  @TempDir Path folder;

  @Test
  void map_referenceMaps_takeUnderTwoThirdsOfTheTool() {
    for (int map = 0; map < 2; map++) {
      MappedFunction function = new MappedFunction.Tables("map_" + map, REFERENCE.map(map));
      int most = map == 0 ? 10 : 9;
      MappingPair six = MappingPair.of(function, SIX, Effort.QUICK);
      if (six.ours().luts() > most) {
        six = MappingPair.of(function, SIX, Effort.THOROUGH);
      }
      assertThat(six.ours().luts()).isAtMost(most);
      assertThat(3 * six.ours().luts()).isAtMost(2 * six.tool().luts());
      if (map == 1 || Extent.isWhole()) {
        MappingPair four = MappingPair.of(function, FOUR, Effort.QUICK);
        assertThat(four.ours().luts()).isLessThan(four.tool().luts());
      }
    }
  }

  @Test
  void map_referenceLane_takesUnderHalfOfTheTool() {
    MappingPair whole =
        MappingPair.of(new MappedFunction.Lane("lane", REFERENCE.lane(true)), SIX, Effort.QUICK);
    assertThat(whole.ours().luts()).isAtMost(32);
    assertThat(whole.ours().levels()).isAtMost(4);
    assertThat(2 * whole.ours().luts()).isLessThan(whole.tool().luts());
    if (!Extent.isWhole()) {
      return;
    }
    MappingPair part =
        MappingPair.of(new MappedFunction.Lane("part", REFERENCE.lane(false)), SIX, Effort.QUICK);
    assertThat(part.ours().luts()).isAtMost(20);
    assertThat(part.ours().luts()).isLessThan(part.tool().luts());
  }

  @Test
  void mapping_tableOfOnesOwn_isMappedAndWritten() throws IOException {
    Path file = Files.writeString(folder.resolve("and.txt"), "inputs 2 outputs 1\n000-\n");
    assertThat(Examples.run("mapping", "--table", file.toString(), "--out", folder.toString()))
        .isEqualTo(0);
    List<String> lines = Files.readAllLines(folder.resolve("mapping.csv"));
    assertThat(lines.get(0))
        .isEqualTo(
            "function,lut_inputs,ours_luts,ours_sites,ours_levels,tool_luts,tool_levels,seconds,"
                + "proved");
    assertThat(lines.get(1)).matches("table,6,0,0,0,0,0,[0-9.]+,true");
    assertThat(lines.get(2)).matches("table,4,0,0,0,0,0,[0-9.]+,true");
  }

  @Test
  void mapping_oneFunction_isTheOnlyOneWritten() throws IOException {
    assertThat(Examples.run("mapping", "--only", "reference_map_1", "--out", folder.toString()))
        .isEqualTo(0);
    assertThat(Files.readAllLines(folder.resolve("mapping.csv"))).hasSize(3);
    assertThat(Examples.run("mapping", "--only", "random_0")).isEqualTo(2);
  }

  @Test
  void mapping_boundOfAToolThatIsMissing_endsWithTwo() throws Exception {
    ExampleRun.Result result =
        ExampleRun.startOnPath("/nowhere", folder, "mapping", "--suite", "--tool-levels").result();
    assertThat(result.status()).isEqualTo(2);
    assertThat(result.err())
        .startsWith(
            "mapping: Yosys (Debian package yosys) or --stored-tool is expected, found neither\n");
  }

  @Test
  void mapping_faultyTable_endsWithTwo() throws IOException {
    Path file = Files.writeString(folder.resolve("bad.txt"), "inputs 2 outputs 1\n00\n");
    assertThat(Examples.run("mapping", "--table", file.toString())).isEqualTo(2);
    assertThat(Examples.run("mapping", "--table", folder.resolve("none").toString())).isEqualTo(2);
  }
}

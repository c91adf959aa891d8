package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.testbench.yardstick.Yosys;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is stated of lanes made of gates, against Yosys (Debian package yosys) on their text. */
@CallsTools
class GatesAgainstSynthesisTest {

  private static final int SECONDS = 200;

  @TempDir Path folder;

  private String text(Design design) throws IOException {
    OutputTree.at(folder).add(new Verilog()).write(design);
    StringBuilder text = new StringBuilder();
    for (String file : new EmittedTree(folder, design.name()).verilog()) {
      text.append(Files.readString(Path.of(file)));
    }
    return text.toString();
  }

  /** Levels come first in what is stated: each that it has fewer may cost a tenth of the LUTs. */
  @ParameterizedTest
  @CsvSource({"ROM, 4", "ROM, 6", "BANKED, 4", "BANKED, 6"})
  void total_tidegate_isWhatSynthesisFinds(Style style, int lutInputs) throws IOException {
    DeviceProfile device =
        lutInputs == 4 ? DeviceProfile.fourInput() : DeviceProfile.sixInputDualOutput();
    Design design = Realizer.on(device).realize(TidegateTrees.lane(), style);
    BlockCost stated = design.total();
    String script = "synth -flatten; abc -lut " + lutInputs;
    Yosys.Figure tool = new Yosys().within(SECONDS, text(design), script).orElseThrow();
    String found = List.of(style, lutInputs, stated, tool).toString();
    assertWithMessage("levels of %s", found).that(stated.levels()).isAtMost(tool.levels() + 1);
    int tenths = 11 + Math.max(0, tool.levels() - stated.levels());
    assertWithMessage("luts of %s", found).that(10 * stated.luts()).isAtMost(tenths * tool.luts());
  }
}

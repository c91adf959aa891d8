package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Benches of invented lanes with every vector, none left out, in Icarus Verilog (Debian package
 * iverilog).
 */
@CallsTools
class AllVectorsTest {

  @TempDir Path tree;

  private Design write(Predecoder lane, int random) {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
    OutputTree.at(tree).add(new Verilog()).add(new Testbenches(random, 5)).write(design);
    return design;
  }

  private SimulationResult run(Design design) {
    return new IcarusVerilog().run(tree, design.name());
  }

  @Test
  void run_foldedLane_passes() {
    SimulationResult result =
        run(
            write(
                Predecoder.builder(SampleSets.bytes()).prefixes(PrefixTreatment.folded(2)).build(),
                2000));
    assertWithMessage(result.output()).that(result.passed()).isTrue();
  }

  @Test
  void run_wordCodedLane_passes() {
    SimulationResult result =
        run(write(Predecoder.builder(SampleSets.words(CodeUnit.WORD_BIG_ENDIAN)).build(), 2000));
    assertWithMessage(result.output()).that(result.passed()).isTrue();
  }
}

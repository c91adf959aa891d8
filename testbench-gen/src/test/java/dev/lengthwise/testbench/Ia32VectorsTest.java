package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Benches of the lane of IA-32 in Icarus Verilog (Debian package iverilog), with every fourth
 * vector in every build. Apart from {@link AllVectorsTest} so that each keeps a core busy.
 */
@CallsTools
class Ia32VectorsTest {

  /** The first opcode that a ROM lists; without it the opcode reads as the default row. */
  private static final String FIRST_OPCODES = "(\\n +)[0-9]+'b[01?_]+, ";

  @TempDir Path tree;

  private Design write(Testbenches benches) {
    Predecoder lane = Predecoder.builder(Ia32.instructionSet()).build();
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
    OutputTree.at(tree).add(new Verilog()).add(benches).write(design);
    return design;
  }

  private SimulationResult run(Design design) {
    return new IcarusVerilog().run(tree, design.name());
  }

  @Test
  void run_ia32LaneEverythingFollowed_passes() {
    SimulationResult result =
        run(write(new Testbenches(LaneVectors.RANDOM, 5).withEvery(Extent.of(4, 1))));
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.mismatches()).isEqualTo(0);
    assertThat(result.vectors()).isGreaterThan(50_000);
  }

  @Test
  void run_ia32LaneOneRomRowBroken_failsAndShowsIt() throws IOException {
    Design design = write(new Testbenches(0, 5).withEvery(Extent.of(4, 1)));
    Path rom = tree.resolve("verilog/" + design.name() + "_map_one_byte.v");
    String text = Files.readString(rom);
    assertThat(text).containsMatch(FIRST_OPCODES);
    Files.writeString(rom, text.replaceFirst(FIRST_OPCODES, "$1"));
    SimulationResult broken = run(design);
    assertThat(broken.passed()).isFalse();
    assertThat(broken.mismatches()).isGreaterThan(0);
    assertThat(broken.shown().get(0)).containsMatch("code [0-9a-f]+ operand32 . address32 .");
  }
}

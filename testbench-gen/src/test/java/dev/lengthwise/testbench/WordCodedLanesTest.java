package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testbench.run.Verilator;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import dev.lengthwise.testing.WordSets;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Lanes of 16-bit code units, up the whole ladder (Debian packages iverilog, verilator, g++, make,
 * ghdl, yosys).
 */
@Slow
@CallsTools
class WordCodedLanesTest {

  private static final Map<List<Object>, Design> MADE = new ConcurrentHashMap<>();

  @TempDir Path folder;

  private static Design made(InstructionSet set, Style style) {
    return MADE.computeIfAbsent(
        List.of(set, style),
        key ->
            Realizer.on(DeviceProfile.sixInput()).realize(Predecoder.builder(set).build(), style));
  }

  private static final InstructionSet RISCV = WordSets.riscv();
  private static final InstructionSet T32 = WordSets.t32();
  private static final InstructionSet WEIR = WordSets.weir(CodeUnit.WORD_BIG_ENDIAN);

  /** The network of the invented set takes half a minute, so that is for the whole extent. */
  static List<Design> designs() {
    List<Design> designs = new ArrayList<>();
    designs.add(made(RISCV, Style.ROM));
    designs.add(made(RISCV, Style.LUT_NETWORK));
    designs.add(made(T32, Style.LUT_NETWORK));
    designs.add(made(WEIR, Style.ROM));
    if (Extent.isWhole()) {
      designs.add(made(WEIR, Style.LUT_NETWORK));
    }
    return designs;
  }

  /** The vectors have each word of each map in each mode. */
  @ParameterizedTest
  @MethodSource("designs")
  void lane_everyWord_isProvedAndAgreesWithTheGoldenModel(Design design) {
    assertThat(design.total().proved()).isTrue();
    SimulationResult result = BuiltInSimulator.run(design, LaneVectors.of(design.lane(), 1000, 11));
    assertWithMessage(result.output()).that(result.mismatches()).isEqualTo(0);
    assertThat(result.vectors()).isAtLeast(1 << 16);
  }

  @ParameterizedTest
  @MethodSource("designs")
  void design_emitted_passesLintersBenchesAndProof(Design design) {
    List<Simulator> simulators = new ArrayList<>();
    simulators.add(new IcarusVerilog());
    simulators.add(new Ghdl(Ghdl.Edition.IEEE_1993));
    if (Extent.isWhole()) { // which compiles for long
      simulators.add(new Verilator());
    }
    EmittedChecks.pass(design, folder, 23, simulators);
  }

  private static int bytes(List<OutputFile> files) {
    return files.stream().mapToInt(file -> file.text().length()).sum();
  }

  @Test
  void files_tablesOfWords_areWrittenByPattern() {
    assertThat(bytes(new Verilog().files(made(RISCV, Style.ROM).circuit()))).isLessThan(4_000);
    assertThat(bytes(new Vhdl().files(made(RISCV, Style.ROM).circuit()))).isLessThan(4_000);
    assertThat(bytes(new Verilog().files(made(WEIR, Style.ROM).circuit()))).isLessThan(10_000);
    assertThat(bytes(new Vhdl().files(made(WEIR, Style.ROM).circuit()))).isLessThan(14_000);
  }

  /** As few as Yosys 0.23 makes of the behavioural text: 6 LUTs and 2. */
  @Test
  void network_lengthsOfFewBits_isAsSmallAsTheToolMakesIt() {
    assertThat(made(RISCV, Style.LUT_NETWORK).total().luts()).isAtMost(6);
    assertThat(made(RISCV, Style.LUT_NETWORK).total().levels()).isAtMost(2);
    assertThat(made(T32, Style.LUT_NETWORK).total().luts()).isAtMost(2);
  }
}

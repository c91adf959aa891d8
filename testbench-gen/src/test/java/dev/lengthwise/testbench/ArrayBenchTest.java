package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Benches of rows of lanes in every simulator (Debian packages iverilog, verilator, g++, ghdl). */
@CallsTools
class ArrayBenchTest {

  @TempDir Path tree;

  static List<Simulator> simulators() {
    return SimulatorsTest.simulators();
  }

  private Design write(Marking marking, int cycles, PipelineCut... cuts) {
    LaneArray.Builder array =
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 8).marking(marking);
    for (PipelineCut cut : cuts) {
      array.cut(cut);
    }
    Design design =
        Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array.build(), Style.ROM);
    OutputTree.at(tree)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(cycles, 5))
        .write(design);
    return design;
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_startBits_passesAndReports(Simulator simulator) {
    Design design = write(Marking.fullLogarithmic(), 3000, PipelineCut.AFTER_MARKS);
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.vectors()).isEqualTo(3000);
    assertThat(result.output()).contains("  redirects: ");
    assertThat(result.output()).doesNotContain("redirects: 0");
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_firstItems_passes(Simulator simulator) {
    Design design = write(Marking.first(2), 3000, PipelineCut.AFTER_LANES);
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_startBitsByEntry_passesAndReports(Simulator simulator) {
    for (int inputs : new int[] {4, 6}) {
      Design design = write(Marking.byEntry(3, inputs), 3000);
      SimulationResult result = simulator.run(tree, design.name());
      assertWithMessage(result.output()).that(result.passed()).isTrue();
      assertThat(result.vectors()).isEqualTo(3000);
      assertThat(result.output()).doesNotContain("redirects: 0");
      assertThat(result.output()).doesNotContain("starts not handled: 0");
    }
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_brokenCarry_fails(Simulator simulator) throws IOException {
    Design design = write(Marking.fullRipple(), 3000, PipelineCut.AFTER_MARKS);
    for (String file : List.of("verilog/sample_lanes.v", "vhdl/sample_lanes.vhd")) {
      String text = Files.readString(tree.resolve(file));
      String broken =
          text.replace(
              "carry_q <= marks_next_carry;",
              file.endsWith("v") ? "carry_q <= 3'd0;" : "carry_q <= \"000\";");
      assertWithMessage(text).that(broken).isNotEqualTo(text);
      Files.writeString(tree.resolve(file), broken);
    }
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isFalse();
    assertThat(result.mismatches()).isGreaterThan(10);
    assertThat(result.shown()).hasSize(10);
  }

  @Test
  void run_truncatedVectors_fails() throws IOException {
    Design design = write(Marking.fullRipple(), 300, PipelineCut.AFTER_MARKS);
    Path vectors = tree.resolve("bench/vectors/sample_lanes.hex");
    String text = Files.readString(vectors);
    Files.writeString(vectors, text.substring(0, text.length() / 2));
    for (Simulator simulator : simulators()) {
      SimulationResult result = simulator.run(tree, design.name());
      assertWithMessage(result.output()).that(result.passed()).isFalse();
    }
  }
}

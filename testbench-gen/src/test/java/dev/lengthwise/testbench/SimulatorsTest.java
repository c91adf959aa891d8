package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testbench.run.Verilator;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testbench.vector.VectorKind;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Emitted benches in every simulator (Debian packages iverilog, verilator, g++, make, ghdl). */
@CallsTools
class SimulatorsTest {

  static List<Simulator> simulators() {
    return List.of(
        new IcarusVerilog(),
        new Verilator(),
        new Ghdl(Ghdl.Edition.IEEE_1993),
        new Ghdl(Ghdl.Edition.IEEE_2008));
  }

  @TempDir Path tree;

  @ParameterizedTest
  @MethodSource("simulators")
  void run_nothingWritten_saysSo(Simulator simulator) {
    boolean vhdl = simulator.name().startsWith("GHDL");
    String file = vhdl ? "vhdl/gate_lane.f" : "bench/verilog/gate_lane_tb.v";
    IllegalStateException e =
        assertThrows(IllegalStateException.class, () -> simulator.run(tree, "gate_lane"));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "design gate_lane: it must be written before it is run, found no file "
                + tree.resolve(file));
  }

  private Design write(Predecoder lane, int random) {
    return write(lane, new Testbenches(random, 5));
  }

  private Design write(Predecoder lane, Testbenches benches) {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
    OutputTree.at(tree).add(new Verilog()).add(new Vhdl()).add(benches).write(design);
    return design;
  }

  private void edit(String path, UnaryOperator<String> change) throws IOException {
    String text = Files.readString(tree.resolve(path));
    String changed = change.apply(text);
    assertThat(changed).isNotEqualTo(text);
    Files.writeString(tree.resolve(path), changed);
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_lane_passesAndReports(Simulator simulator) {
    Design design =
        write(Predecoder.builder(SampleSets.bytes()).leaveOut("near", 3, 9).build(), 2000);
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.vectors()).isGreaterThan(4000);
    assertThat(result.mismatches()).isEqualTo(0);
    assertThat(result.shown()).isEmpty();
    assertThat(result.simulator()).isEqualTo(simulator.name());
    assertThat(result.duration()).isGreaterThan(Duration.ZERO);
    assertThat(report(result)).contains("  left-out rows: 28 of 28");
    assertThat(result.output().toLowerCase(Locale.ROOT)).doesNotContain("warning");
  }

  @Test
  void run_foldedAndWordCodedLanes_pass() {
    for (Predecoder lane :
        List.of(
            Predecoder.builder(SampleSets.bytes()).prefixes(PrefixTreatment.folded(2)).build(),
            Predecoder.builder(SampleSets.words(CodeUnit.WORD_BIG_ENDIAN)).build())) {
      Design design = write(lane, new Testbenches(2000, 5).withEvery(31));
      for (Simulator simulator : List.of(new IcarusVerilog(), new Ghdl(Ghdl.Edition.IEEE_1993))) {
        SimulationResult result = simulator.run(tree, design.name());
        assertWithMessage(result.output()).that(result.passed()).isTrue();
      }
    }
  }

  @Test
  void every_shareOfVectors_keepsOrderAndKinds() {
    LaneVectors all = LaneVectors.of(Predecoder.builder(SampleSets.bytes()).build(), 100, 5);
    LaneVectors some = all.every(13);
    assertThat(some.vectors()).hasSize((all.vectors().size() + 12) / 13);
    assertThat(all.vectors()).containsAtLeastElementsIn(some.vectors()).inOrder();
    assertThat(some.counts().get(VectorKind.RANDOM)).isGreaterThan(5);
    assertThat(assertThrows(IllegalArgumentException.class, () -> all.every(0)))
        .hasMessageThat()
        .isEqualTo("vectors of sample_lane: the step must be at least 1, found 0");
  }

  @Test
  void run_oneRowBroken_failsAlikeInEverySimulator() throws IOException {
    Design design = write(Predecoder.builder(SampleSets.bytes()).build(), 500);
    edit("verilog/sample_lane_map_near.v", text -> text.replace("= 5'h02;", "= 5'h03;"));
    edit("vhdl/sample_lane_map_near.vhd", text -> text.replace("=> \"00010\"", "=> \"00011\""));
    List<List<String>> reports = new ArrayList<>();
    for (Simulator simulator : simulators()) {
      SimulationResult broken = simulator.run(tree, design.name());
      assertWithMessage(broken.output()).that(broken.passed()).isFalse();
      assertWithMessage(broken.output()).that(broken.mismatches()).isGreaterThan(0);
      assertThat(broken.shown().get(0))
          .containsMatch(
              "^mismatch at vector \\d+: code [0-9a-f]{8} wide . far . expected . found .$");
      reports.add(report(broken));
    }
    assertThat(Set.copyOf(reports)).hasSize(1);
  }

  /** Returns the lines that the bench itself prints, from the first mismatch to the verdict. */
  private static List<String> report(SimulationResult result) {
    return result
        .output()
        .lines()
        .filter(
            line -> line.matches("(mismatch at|vectors:|  .*: \\d+ of|mismatches:|PASS|FAIL).*"))
        .toList();
  }

  @Test
  void run_vectorsMissing_fails() throws IOException {
    Design design = write(Predecoder.builder(SampleSets.bytes()).build(), 10);
    Files.delete(tree.resolve("bench/vectors/" + design.name() + ".hex"));
    for (Simulator simulator : simulators()) {
      if (!(simulator instanceof Verilator)) { // built anew each time: cutting short is enough
        assertThat(simulator.run(tree, design.name()).passed()).isFalse();
      }
    }
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_vectorsCutShort_fails(Simulator simulator) throws IOException {
    Design design = write(Predecoder.builder(SampleSets.bytes()).build(), 10);
    edit(
        "bench/vectors/" + design.name() + ".hex",
        text -> text.substring(0, text.indexOf('\n', text.length() / 2) + 1));
    assertThat(simulator.run(tree, design.name()).passed()).isFalse();
  }

  @Test
  void run_programMissing_namesThePackage() {
    IllegalStateException fault =
        assertThrows(
            IllegalStateException.class,
            () -> ToolRun.of("ghdl", tree, 5, List.of("no-such-program")));
    assertThat(fault)
        .hasMessageThat()
        .startsWith("no-such-program: the program must be installed (Debian package ghdl), found ");
  }
}

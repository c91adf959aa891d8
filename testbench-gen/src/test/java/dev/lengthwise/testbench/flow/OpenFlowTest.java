package dev.lengthwise.testbench.flow;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Interruption;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Debian packages yosys, nextpnr-ice40 and ghdl. */
@CallsTools
class OpenFlowTest {

  private static final String GATES =
      """
      module gates (input [2:0] a, input b, output reg [1:0] y);
        always @* case ({b, a})
          4'd3, 4'd5, 4'd6, 4'd9: y = 1;
          4'd7, 4'd10: y = 2;
          default: y = 0;
        endcase
      endmodule
      """;

  @TempDir Path folder;

  private static Predecoder lane() {
    LengthTable table =
        LengthTable.named("tiny")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x2f)
                        .bytes(1)
                        .rows(0x30, 0x4a)
                        .bytes(2)
                        .rows(0x53, 0x99)
                        .bytes(3)
                        .others()
                        .undefined())
            .build();
    return Predecoder.builder(InstructionSet.of(table, PrefixRules.builder().build(), 3)).build();
  }

  private Design write(Style style) {
    Design design = Realizer.on(DeviceProfile.fourInput()).realize(lane(), style);
    OutputTree.at(folder).add(new TimingTrial(new Verilog())).write(design);
    return design;
  }

  private OpenFlow quick() {
    return new OpenFlow().withSeeds(1).withScripts(OpenFlow.Script.PLAIN);
  }

  private void write(String verilog) throws IOException {
    for (OutputFile file : new TimingTrial(new Verilog()).files(verilog)) {
      Path path = folder.resolve(file.path());
      Files.createDirectories(path.getParent());
      Files.writeString(path, file.text());
    }
  }

  @Test
  void run_onANetwork_findsItsLutsAndTheClockOfItsLevels() {
    Design design = write(Style.LUT_NETWORK);
    List<TimingResult> results = quick().withSeeds(2).run(folder, design.name());
    assertThat(results).hasSize(1);
    TimingResult result = results.get(0);
    assertThat(result.luts()).isEqualTo(design.total().luts());
    assertThat(result.registers()).isEqualTo(0);
    assertThat(result.blockRams()).isEqualTo(0);
    assertThat(result.trials().stream().map(TimingResult.Trial::seed)).containsExactly(1, 2);
    // One LUT between registers takes 2.65 ns at most there, and its wire alone half a nanosecond.
    int levels = design.total().levels();
    assertThat(levels).isGreaterThan(1);
    assertThat(result.least()).isGreaterThan(1000 / (2.65 * levels));
    assertThat(result.most()).isLessThan(1000 / (0.5 * levels));
    assertThat(result.trials().stream().anyMatch(TimingResult.Trial::limitedAround)).isFalse();
    List<TimingResult> again = quick().withSeeds(2).run(folder, design.name());
    assertThat(again).isEqualTo(results);
  }

  /** The same LUTs between the same registers, whichever language they were written in. */
  @Test
  void run_onTheVhdlOfANetwork_findsTheLutsOfItsVerilog() {
    Design design = write(Style.LUT_NETWORK);
    TimingResult verilog = quick().run(folder, design.name()).get(0);
    Path tree = folder.resolve("vhdl_only");
    OutputTree.at(tree).add(new TimingTrial(new Vhdl())).write(design);
    TimingResult vhdl = quick().withVhdl().run(tree, design.name()).get(0);
    assertThat(vhdl.luts()).isEqualTo(verilog.luts());
    assertThat(vhdl.luts()).isEqualTo(design.total().luts());
    assertThat(vhdl.registers()).isEqualTo(0);
    // The order of the cells is another, so placement is too.
    assertThat(vhdl.median()).isGreaterThan(0.7 * verilog.median());
    assertThat(vhdl.median()).isLessThan(1.4 * verilog.median());
    assertThat(
            assertThrows(IllegalStateException.class, () -> quick().run(tree, design.name()))
                .getMessage())
        .isEqualTo(
            "design tiny_lane_timing: it must be written before it is run, found no file "
                + tree.resolve("verilog/tiny_lane_timing.f"));
  }

  @Test
  void run_onTheVhdlOfARow_countsItsRegisters() {
    LaneArray row = LaneArray.builder(lane(), 4).cut(PipelineCut.AFTER_LANES).build();
    Design design = Realizer.on(DeviceProfile.fourInput()).realize(row, Style.ROM);
    OutputTree.at(folder).add(new TimingTrial(new Vhdl())).write(design);
    TimingResult result = quick().withVhdl().run(folder, design.name()).get(0);
    assertThat(result.registers()).isEqualTo(design.total().registers());
    assertThat(result.luts()).isGreaterThan(10);
  }

  @Test
  void run_translatorMissingOrFailing_isSaid() throws IOException {
    Design design = Realizer.on(DeviceProfile.fourInput()).realize(lane(), Style.ROM);
    OutputTree.at(folder).add(new TimingTrial(new Vhdl())).write(design);
    OpenFlow none = quick().withInput(new VhdlInput("/nowhere/ghdl"));
    assertThat(
            assertThrows(IllegalStateException.class, () -> none.run(folder, design.name()))
                .getMessage()
                .replaceFirst("found .*", "found"))
        .isEqualTo("/nowhere/ghdl: the program must be installed (Debian package ghdl), found");
    String half = "case $1 in --synth) echo no such unit >&2; exit 1;; esac";
    for (String program : List.of("echo no such file; exit 1", half)) {
      OpenFlow fails = quick().withInput(new VhdlInput(program(program).toString()));
      assertThat(
              assertThrows(IllegalStateException.class, () -> fails.run(folder, design.name()))
                  .getMessage())
          .isEqualTo(
              "ghdl: it must translate tiny_lane_timing, found status 1\nno such "
                  + (program.equals(half) ? "unit" : "file"));
    }
  }

  /** Where a design is wires only, the block around it is what limits the clock. */
  @Test
  void run_onWires_saysThatTheClockIsThatOfTheBlockAround() throws IOException {
    write("module wires (input [3:0] x, output [3:0] y); assign y = x; endmodule\n");
    TimingResult result = quick().run(folder, "wires").get(0);
    assertThat(result.luts()).isEqualTo(0);
    assertThat(result.trials().get(0).limitedAround()).isTrue();
  }

  @Test
  void run_byAllScripts_onATextOfTheUsers_countsTwoLutsForTwoOutputs() throws IOException {
    write(GATES);
    List<TimingResult> results = new OpenFlow().withSeeds(1).run(folder, "gates");
    assertThat(results.stream().map(TimingResult::script))
        .containsExactlyElementsIn(List.of(OpenFlow.Script.values()))
        .inOrder();
    for (TimingResult result : results) {
      assertWithMessage("%s", result).that(result.luts()).isEqualTo(2);
    }
  }

  @Test
  void run_onARow_countsItsRegistersAndNotThoseAround() throws IOException {
    LaneArray row = LaneArray.builder(lane(), 4).cut(PipelineCut.AFTER_LANES).build();
    Design design = Realizer.on(DeviceProfile.fourInput()).realize(row, Style.ROM);
    OutputTree.at(folder)
        .add(new TimingTrial(new Verilog()))
        .add(ClockConstraints.of(8))
        .write(design);
    TimingResult result = quick().run(folder, design.name()).get(0);
    int around = 0;
    for (var port : design.circuit().ports()) {
      around += port.width();
    }
    assertThat(result.registers()).isGreaterThan(8);
    assertThat(result.registers()).isLessThan(around);
    assertThat(result.registers()).isEqualTo(design.total().registers());
    assertThat(result.luts()).isGreaterThan(10);
  }

  @Test
  void run_programMissing_namesItsPackage() {
    Design design = write(Style.ROM);
    OpenFlow none = quick().withPrograms("/nowhere/yosys", "nextpnr-ice40");
    assertThat(
            assertThrows(IllegalStateException.class, () -> none.run(folder, design.name()))
                .getMessage()
                .replaceFirst("found .*", "found"))
        .isEqualTo("/nowhere/yosys: the program must be installed (Debian package yosys), found");
    OpenFlow noPlacer = quick().withPrograms("yosys", "/nowhere/placer");
    assertThat(
            assertThrows(IllegalStateException.class, () -> noPlacer.run(folder, design.name()))
                .getMessage()
                .replaceFirst("found .*", "found"))
        .isEqualTo(
            "/nowhere/placer: the program must be installed (Debian package nextpnr-ice40), found");
    assertThat(
            assertThrows(IllegalStateException.class, noPlacer::versions)
                .getMessage()
                .replaceFirst("found .*", "found"))
        .isEqualTo(
            "/nowhere/placer: the program must be installed (Debian package nextpnr-ice40), found");
  }

  @Test
  void run_toolFails_saysItsLastLines() throws IOException {
    write(GATES.replace("default: y = 0;", "default: y = nothing of this;"));
    String message =
        assertThrows(IllegalStateException.class, () -> quick().run(folder, "gates")).getMessage();
    assertThat(message).startsWith("yosys: it must synthesize gates, found status 1\n");
    assertThat(message).contains("syntax error");
    write(GATES);
    Path placer = program("i=0; while [ $i -lt 30 ]; do i=$((i+1)); echo line $i; done; exit 3");
    assertThat(
            assertThrows(
                    IllegalStateException.class,
                    () -> quick().withPrograms("yosys", placer.toString()).run(folder, "gates"))
                .getMessage())
        .isEqualTo(
            """
            nextpnr-ice40: it must place and route plain, found status 3
            line 21
            line 22
            line 23
            line 24
            line 25
            line 26
            line 27
            line 28
            line 29
            line 30\
            """);
  }

  @Test
  void run_notWritten_isSaid() {
    assertThat(
            assertThrows(IllegalStateException.class, () -> quick().run(folder, "gates"))
                .getMessage())
        .isEqualTo(
            "design gates_timing: it must be written before it is run, found no file "
                + folder.resolve("verilog/gates_timing.f"));
  }

  @Test
  void run_interrupted_endsThePrograms() throws Exception {
    write(GATES);
    OpenFlow slow = quick().withPrograms(program("exec sleep 60").toString(), "nextpnr-ice40");
    Interruption.assertEnds("open flow", 300, () -> slow.run(folder, "gates"));
    OpenFlow slowPlacer = quick().withPrograms("yosys", program("exec sleep 60").toString());
    Interruption.assertEnds("placer", 3_000, () -> slowPlacer.run(folder, "gates"));
  }

  @Test
  void versions_areThoseOfThePrograms() {
    String both = "yosys=[0-9]\\S* nextpnr=[0-9]\\S*";
    assertThat(new OpenFlow().versions()).matches(both);
    assertThat(new OpenFlow().withVhdl().versions()).matches(both + " ghdl=[0-9]\\S*");
  }

  @Test
  void settings_outOfRange_areRefused() {
    for (int seeds : new int[] {0, 1001}) {
      assertThat(
              assertThrows(IllegalArgumentException.class, () -> new OpenFlow().withSeeds(seeds))
                  .getMessage())
          .isEqualTo("open flow: the seeds must be in [1, 1000], found " + seeds);
    }
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> new OpenFlow().withScripts())
                .getMessage())
        .isEqualTo("open flow: scripts, each once, are expected, found []");
    assertThat(
            assertThrows(
                    IllegalArgumentException.class,
                    () -> new OpenFlow().withScripts(OpenFlow.Script.PLAIN, OpenFlow.Script.PLAIN))
                .getMessage())
        .isEqualTo("open flow: scripts, each once, are expected, found [PLAIN, PLAIN]");
  }

  private Path program(String text) throws IOException {
    Path program = Files.createTempFile(folder, "program", "");
    Files.writeString(program, "#!/bin/sh\n" + text + "\n");
    return Files.setPosixFilePermissions(program, PosixFilePermissions.fromString("rwx------"));
  }
}

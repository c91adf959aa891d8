package dev.lengthwise.vhdl;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** LUTs as instances of the design's own block, and as assignments (Debian package ghdl). */
class LutBlockTest {

  @TempDir Path directory;

  /** LUTs with ports called as the block of LUTs would be, and as its ports. */
  private static Circuit gate() {
    CircuitBuilder c = Circuit.named("gate", "LUTs behind ports with names of ours.");
    Signal code = c.input("gate_lut", 4, "called as the block of LUTs");
    Signal point = c.input("point", 2, "called as its port");
    Signal odd =
        c.named(
            c.lut(
                List.of(c.bit(code, 1), c.bit(code, 2), c.bit(code, 0)),
                Contents.of(1, 0, 1, 1, 0, 1, 0, 0, 1)),
            "odd");
    c.comment(odd, "set if an odd number is");
    List<Signal> bits = List.of(c.bit(point, 0), c.bit(point, 1));
    Signal both = c.named(c.lut(bits, Contents.of(1, 0, 0, 0, 1)), "both");
    List<Signal> three = List.of(odd, c.constant(1, 1), both);
    c.output("held", c.lut(three, Contents.of(1, 1, 0, 0, 0, 0, 0, 0, 1)), "a bit");
    c.output("shut", c.lut(List.of(odd), Contents.of(1, 1, 0)), "even");
    return c.build();
  }

  @Test
  void files_luts_areInstancesOfOneBlock() {
    List<OutputFile> files = new Vhdl().files(gate());
    assertThat(files.stream().map(OutputFile::path))
        .containsExactly("vhdl/gate_lut_2.vhd", "vhdl/gate.vhd", "vhdl/gate.f")
        .inOrder();
    String text = files.get(1).text();
    assertThat(text)
        .contains(
            """
              -- set if an odd number is
              odd_cell : entity work.gate_lut_2 generic map (3, x"96")
                port map (odd, point(1 downto 0) => gate_lut(2 downto 1), point(2) => gate_lut(0));
            """);
    assertThat(text)
        .contains(
            "  both_cell : entity work.gate_lut_2 generic map (2, x\"8\") port map (both, point);\n");
    assertThat(text)
        .contains("port map (held, point(0) => odd, point(1) => '1', point(2) => both);\n");
    assertThat(text).contains(" generic map (1, \"01\") port map (shut, point(0) => odd);\n");
  }

  @Test
  void files_blockOfLuts_readsLikeThis() {
    String text = new Vhdl().files(gate()).get(0).text();
    assertThat(text)
        .startsWith(
            """
            ------------------------------------------------------------------------------------------------
            -- Block gate_lut_2
            --
            -- One LUT: the value is bit point of the truth table, bit i while the inputs count i, input
            -- 0 being the least significant.
            """);
    assertThat(text.substring(text.indexOf("library")))
        .isEqualTo(
            """
            library ieee;
            use ieee.std_logic_1164.all;
            use ieee.numeric_std.all;

            entity gate_lut_2 is
              generic (
                inputs : positive;
                truth  : std_logic_vector
              );
              port (
                value : out std_logic;
                point : in  std_logic_vector(inputs - 1 downto 0)
              );
            end entity gate_lut_2;

            architecture rtl of gate_lut_2 is

              attribute keep_hierarchy : string;
              attribute keep_hierarchy of rtl : architecture is "yes";

              -- The 0 in front is for synthesizers that take a constant whose only ones are in its first
              -- 32 bits for zero.
              constant numbered : std_logic_vector(truth'length downto 0) := '0' & truth;

            begin

              value <= 'X' when is_x(point) else numbered(to_integer(unsigned(point)));

            end architecture rtl;
            """);
  }

  static Stream<VhdlOptions.LutForm> forms() {
    return Stream.of(
        new VhdlOptions.LutAssignment(),
        new VhdlOptions.LutBlock("keep_hierarchy = \"yes\""),
        new VhdlOptions.LutBlock("other_word"));
  }

  @ParameterizedTest
  @MethodSource("forms")
  @CallsTools
  void files_lutForm_pleasesBothEditionsAndSimulatesAlike(VhdlOptions.LutForm form)
      throws IOException {
    Vhdl vhdl = new Vhdl(VhdlOptions.standard().withLut(form));
    for (Circuit circuit : List.of(gate(), VhdlOptionsTest.mixedInputs(), SampleCircuits.luts())) {
      Path folder = Files.createDirectory(directory.resolve(circuit.name()));
      List<Path> sources = Tools.write(folder, circuit, vhdl);
      for (String edition : List.of("93", "08")) {
        Tools.analyse(Files.createDirectory(folder.resolve(edition)), edition, sources);
      }
      Tools.Result result = new SimulationBench(circuit, folder).run("93", sources, 300, 1);
      assertThat(result.output()).contains("equal in cycles: 300");
      assertThat(result.exit()).isEqualTo(0);
    }
  }

  @Test
  void files_noLutsOrAssignments_haveNoBlockOfLuts() {
    assertThat(new Vhdl().files(SampleCircuits.sums())).hasSize(2);
    VhdlOptions options = VhdlOptions.standard().withLut(new VhdlOptions.LutAssignment());
    assertThat(new Vhdl(options).files(gate())).hasSize(2);
  }

  private static void fails(String message, Executable action) {
    assertThat(assertThrows(IllegalArgumentException.class, action))
        .hasMessageThat()
        .isEqualTo(message);
  }

  @Test
  void lutBlock_faultyAttributes_throw() {
    fails(
        "LUT block attribute: a name, or a name and a quoted text or number, is expected,"
            + " found \"keep; end\"",
        () -> new VhdlOptions.LutBlock("keep; end"));
    fails(
        "LUT block attribute: the name must be a VHDL name, found \"keep__it\"",
        () -> new VhdlOptions.LutBlock("keep__it"));
    fails(
        "LUT block attribute: the name must be none of inputs, truth, value, point, numbered, rtl,"
            + " found \"Truth\"",
        () -> new VhdlOptions.LutBlock("Truth = 1"));
  }
}

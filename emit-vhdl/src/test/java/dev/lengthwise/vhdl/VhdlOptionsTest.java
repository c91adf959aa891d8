package dev.lengthwise.vhdl;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What a user fills in for a device, in GHDL (Debian package ghdl). */
class VhdlOptionsTest {

  private static final VhdlOptions.LutComponent COMPONENT =
      new VhdlOptions.LutComponent(
          "work", "lut6_cell", "CONTENT", List.of("I0", "I1", "I2", "I3", "I4", "I5"), "O");

  private static final String COMPONENT_MODEL =
      """
      library ieee;
      use ieee.std_logic_1164.all;
      use ieee.numeric_std.all;
      entity lut6_cell is
        generic (CONTENT : bit_vector(63 downto 0));
        port (I0, I1, I2, I3, I4, I5 : in std_logic; O : out std_logic);
      end entity;
      architecture model of lut6_cell is
        signal inputs : std_logic_vector(5 downto 0);
      begin
        inputs <= I5 & I4 & I3 & I2 & I1 & I0;
        O <= 'X' when is_x(inputs) else to_stdulogic(CONTENT(to_integer(unsigned(inputs))));
      end architecture;
      """;

  @TempDir Path directory;

  /** LUTs whose inputs are bits, constants and expressions. */
  static Circuit mixedInputs() {
    CircuitBuilder b = Circuit.named("mixed_inputs", "LUTs behind logic.");
    Signal code = b.input("code", 4, "bits");
    Signal first =
        b.lut(
            List.of(b.not(b.bit(code, 0)), b.constant(1, 1), b.bit(code, 1)),
            Contents.of(1, 0, 1, 1, 0, 1, 0, 0, 1));
    Signal second =
        b.lut(
            List.of(first, b.and(List.of(b.bit(code, 2), b.bit(code, 3)))),
            Contents.of(1, 0, 1, 1, 1));
    b.output("found", second, "a bit");
    b.output("inverted", b.lut(List.of(second), Contents.of(1, 1, 0)), "a bit");
    return b.build();
  }

  static Stream<Circuit> networks() {
    return Stream.of(SampleCircuits.luts(), mixedInputs());
  }

  @ParameterizedTest
  @MethodSource("networks")
  void files_lutComponent_simulatesAlike(Circuit circuit) throws IOException {
    Vhdl vhdl = new Vhdl(VhdlOptions.standard().withLut(COMPONENT));
    List<Path> sources = new ArrayList<>(Tools.write(directory, circuit, vhdl));
    assertThat(Files.readString(sources.get(0))).contains(" : lut6_cell");
    Path model = directory.resolve("lut6_cell.vhd");
    Files.writeString(model, COMPONENT_MODEL);
    sources.add(0, model);
    for (String edition : List.of("93", "08")) {
      Tools.analyse(Files.createDirectory(directory.resolve(edition)), edition, sources);
    }
    Tools.Result result = new SimulationBench(circuit, directory).run("93", sources, 300, 1);
    assertThat(result.output()).contains("equal in cycles: 300");
    assertThat(result.exit()).isEqualTo(0);
  }

  @Test
  void files_lutComponentOfALibrary_isBoundToItsEntity() throws IOException {
    VhdlOptions.LutComponent cell =
        new VhdlOptions.LutComponent(
            "cells", COMPONENT.component(), COMPONENT.table(), COMPONENT.inputs(), "O");
    Circuit circuit = mixedInputs();
    Vhdl vhdl = new Vhdl(VhdlOptions.standard().withLut(cell));
    List<Path> sources = Tools.write(directory, circuit, vhdl);
    Path model = directory.resolve("lut6_cell.vhd");
    Files.writeString(model, COMPONENT_MODEL);
    Tools.run(directory, List.of("ghdl", "-a", "--std=93", "--work=cells", model.toString()));
    Tools.Result result = new SimulationBench(circuit, directory).run("93", sources, 300, 1);
    assertThat(result.output()).contains("equal in cycles: 300");
    assertThat(result.exit()).isEqualTo(0);
  }

  @ParameterizedTest
  @MethodSource("networks")
  void files_lutComponentWithSwappedInputs_isFoundDifferent(Circuit circuit) throws IOException {
    Vhdl vhdl = new Vhdl(VhdlOptions.standard().withLut(COMPONENT));
    List<Path> sources = new ArrayList<>(Tools.write(directory, circuit, vhdl));
    Path model = directory.resolve("lut6_cell.vhd");
    Files.writeString(model, COMPONENT_MODEL.replace("I1 & I0;", "I0 & I1;"));
    sources.add(0, model);
    Tools.Result result = new SimulationBench(circuit, directory).run("93", sources, 300, 1);
    assertThat(result.output()).contains("wrong in cycle");
  }

  @Test
  void files_ramAttributes_areAcceptedByBothEditions() throws IOException {
    VhdlOptions options =
        VhdlOptions.standard()
            .withBlockRam("ram_kind = \"block\"")
            .withDistributedRam("ram_kind = \"spread\"");
    List<Path> sources = Tools.write(directory, SampleCircuits.memories(), new Vhdl(options));
    for (String edition : List.of("93", "08")) {
      Tools.analyse(Files.createDirectory(directory.resolve(edition)), edition, sources);
    }
    String text = Files.readString(sources.get(0));
    assertThat(text).contains("attribute ram_kind of lines : signal is \"block\";");
    assertThat(text).contains("attribute ram_kind of tags : signal is \"spread\";");
    assertThat(text.split("attribute ram_kind : string;", -1)).hasLength(2);
  }

  @Test
  void files_ramAttributesOfOtherTypes_areAcceptedByBothEditions() throws IOException {
    VhdlOptions options =
        VhdlOptions.standard().withBlockRam("depth_hint=4").withDistributedRam("keep_small");
    List<Path> sources = Tools.write(directory, SampleCircuits.memories(), new Vhdl(options));
    for (String edition : List.of("93", "08")) {
      Tools.analyse(Files.createDirectory(directory.resolve(edition)), edition, sources);
    }
    String text = Files.readString(sources.get(0));
    assertThat(text).contains("attribute depth_hint : integer;");
    assertThat(text).contains("attribute keep_small of tags : signal is true;");
  }

  private static void fails(String message, Executable action) {
    assertThat(assertThrows(IllegalArgumentException.class, action))
        .hasMessageThat()
        .isEqualTo(message);
  }

  @Test
  void files_lutWiderThanComponent_throws() {
    VhdlOptions options =
        VhdlOptions.standard()
            .withLut(
                new VhdlOptions.LutComponent(
                    "work", "lut4_cell", "INIT", List.of("A", "B", "C", "D"), "Y"));
    fails(
        "LUT component lut4_cell: a LUT must have at most 4 inputs, found 5",
        () -> new Vhdl(options).files(SampleCircuits.luts()));
  }

  @Test
  void files_namesOfTheBlock_throw() {
    VhdlOptions.LutComponent component =
        new VhdlOptions.LutComponent(
            "work", "Found_3", "T", List.of("A", "B", "C", "D", "E", "F"), "Y");
    fails(
        "LUT component Found_3: the name must not be used in the block, found it in luts",
        () -> new Vhdl(VhdlOptions.standard().withLut(component)).files(SampleCircuits.luts()));
    fails(
        "RAM attribute data: the name must not be used in the block, found it in memories",
        () ->
            new Vhdl(VhdlOptions.standard().withBlockRam("data")).files(SampleCircuits.memories()));
    fails(
        "RAM attribute kind: the values must be of one type, found string and integer",
        () ->
            new Vhdl(
                    VhdlOptions.standard()
                        .withBlockRam("kind = \"a\"")
                        .withDistributedRam("kind = 1"))
                .files(SampleCircuits.memories()));
  }

  @Test
  void options_faultyAttributes_throw() {
    fails(
        "block RAM attribute: a name, or a name and a quoted text or number, is expected,"
            + " found \"keep; end\"",
        () -> VhdlOptions.standard().withBlockRam("keep; end"));
    fails(
        "distributed RAM attribute: the name must be a VHDL name, found \"ram__kind\"",
        () -> VhdlOptions.standard().withDistributedRam("ram__kind = 3"));
  }

  @Test
  void lutComponent_faultyNames_throw() {
    fails(
        "LUT component: the input must be a VHDL name, found \"Signal\"",
        () -> new VhdlOptions.LutComponent("work", "lut", "T", List.of("A", "Signal"), "Y"));
    fails(
        "LUT component: table and ports must have names of their own, found T, [A, a], Y",
        () -> new VhdlOptions.LutComponent("work", "lut", "T", List.of("A", "a"), "Y"));
    fails(
        "LUT component: 1 to 8 inputs are expected, found 0",
        () -> new VhdlOptions.LutComponent("work", "lut", "T", List.of(), "Y"));
  }
}

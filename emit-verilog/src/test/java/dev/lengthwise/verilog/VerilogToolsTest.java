package dev.lengthwise.verilog;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.RandomCircuits;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The emitted text in the hands of outside tools. */
@CallsTools
class VerilogToolsTest {

  private static final VerilogOptions.LutPrimitive PRIMITIVE =
      new VerilogOptions.LutPrimitive(
          "lut6_cell", "TABLE", List.of("I0", "I1", "I2", "I3", "I4", "I5"), "O");

  private static final String PRIMITIVE_MODEL =
      """
      module lut6_cell #(parameter [63:0] TABLE = 64'h0) (
        input wire I0, input wire I1, input wire I2, input wire I3, input wire I4, input wire I5,
        output wire O
      );
        assign O = TABLE[{I5, I4, I3, I2, I1, I0}];
      endmodule
      """;

  @TempDir Path directory;

  static Stream<Circuit> samples() {
    return Stream.concat(
        Stream.of(
            SampleCircuits.logic(),
            SampleCircuits.lookups(),
            SampleCircuits.partlyUnused(),
            SampleCircuits.hostile(),
            SampleCircuits.instancesCalledAsTheirInsides()),
        Stream.of(Reset.values()).map(SampleCircuits::clocked));
  }

  static Stream<Circuit> random() {
    Reset[] resets = Reset.values();
    return IntStream.range(0, Extent.of(3, 15))
        .boxed()
        .flatMap(
            seed ->
                Stream.of(
                    RandomCircuits.clocked(seed, resets[seed % 3]),
                    RandomCircuits.combinational(seed)));
  }

  @ParameterizedTest
  @MethodSource({"samples", "random"})
  void files_circuit_pleaseLintersAndSimulateAlike(Circuit circuit) {
    Emitted emitted = new Emitted(circuit, VerilogOptions.standard(), directory);
    emitted.checkLint();
    assertWithMessage("%s", circuit)
        .that(emitted.simulate(Bench.of(circuit, 80, 1, UnaryOperator.identity())))
        .isEqualTo("cycles 80 errors 0\n");
  }

  static Stream<VerilogOptions.LutForm> lutForms() {
    return Stream.of(
        PRIMITIVE,
        new VerilogOptions.LutAssignment(),
        new VerilogOptions.LutBlock("keep_hierarchy = \"yes\""),
        new VerilogOptions.LutBlock("other_word"));
  }

  @ParameterizedTest
  @MethodSource("lutForms")
  void files_lutForm_pleasesLintersAndSimulatesAlike(VerilogOptions.LutForm form) {
    Circuit circuit = SampleCircuits.lookups();
    Emitted emitted = new Emitted(circuit, VerilogOptions.standard().withLut(form), directory);
    if (form instanceof VerilogOptions.LutPrimitive) {
      emitted.add("verilog/lut6_cell.v", PRIMITIVE_MODEL);
    }
    emitted.checkLint();
    assertThat(emitted.simulate(Bench.of(circuit, 200, 2, UnaryOperator.identity())))
        .isEqualTo("cycles 200 errors 0\n");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "far",
        "near",
        "interrupt",
        "list",
        "queue",
        "set",
        "vector",
        "uint8_t",
        "complex"
      })
  void files_portCalledAsWordOfTheLintersOwnLanguage_pleasesLinters(String name) {
    CircuitBuilder c = Circuit.named("sample_" + name, "");
    c.output("out_value", c.not(c.userInput(name, 1, "a user's")), "");
    new Emitted(c.build(), VerilogOptions.standard(), directory).checkLint();
  }

  @Test
  void files_ramAttributes_pleaseLinters() {
    VerilogOptions options =
        VerilogOptions.standard()
            .withBlockRam("ram_kind = \"block\"")
            .withDistributedRam("small_ram");
    new Emitted(SampleCircuits.clocked(Reset.ACTIVE_HIGH), options, directory).checkLint();
  }

  @Test
  void files_memories_areInferredAsOneRamEach() {
    Emitted emitted =
        new Emitted(SampleCircuits.clocked(Reset.NONE), VerilogOptions.standard(), directory);
    emitted.checkMemories(
        "select -assert-count 2 t:$mem_v2",
        "select -assert-count 2 r:WR_PORTS=1 t:$mem_v2 %i",
        "select -assert-count 1 r:RD_CLK_ENABLE=2'b11 r:RD_TRANSPARENCY_MASK=2'b00 %i",
        "select -assert-count 1 r:RD_CLK_ENABLE=1'b0 t:$mem_v2 %i");
  }

  @Test
  void bench_spoiltExpectation_countsErrors() {
    Circuit circuit = SampleCircuits.partlyUnused();
    Emitted emitted = new Emitted(circuit, VerilogOptions.standard(), directory);
    String report = emitted.simulate(Bench.of(circuit, 10, 3, value -> value.xor(BigInteger.ONE)));
    assertThat(report).endsWith("cycles 10 errors 20\n");
  }
}

package dev.lengthwise.verilog;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.testing.CallsTools;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** LUTs as instances of the design's own block. */
class LutBlockTest {

  @TempDir Path directory;

  /** LUTs of two blocks, with ports called as the block of LUTs would be, and as its ports. */
  private static Circuit gate() {
    CircuitBuilder inner = Circuit.named("gate_lut_2", "A block called as the block of LUTs.");
    Signal point = inner.input("point", 2, "bits");
    inner.output(
        "value",
        inner.lut(List.of(inner.bit(point, 0), inner.bit(point, 1)), Contents.of(1, 0, 0, 0, 1)),
        "both");
    CircuitBuilder c = Circuit.named("gate", "LUTs in two blocks.");
    Signal code = c.input("gate_lut", 4, "called as the block of LUTs");
    Signal odd =
        c.named(
            c.lut(
                List.of(c.bit(code, 1), c.bit(code, 2), c.bit(code, 0)),
                Contents.of(1, 0, 1, 1, 0, 1, 0, 0, 1)),
            "odd");
    c.comment(odd, "set if an odd number is");
    Signal both =
        c.instance("both", inner.build(), Map.of("point", c.slice(code, 2, 2))).get("value");
    c.output("held", c.lut(List.of(odd, both), Contents.of(1, 1, 0, 0, 0)), "neither");
    c.output("shut", c.lut(List.of(odd), Contents.of(1, 1, 0)), "even");
    return c.build();
  }

  @Test
  void files_luts_areInstancesOfOneBlock() {
    List<OutputFile> files = new Verilog().files(gate());
    assertThat(files.stream().map(OutputFile::path))
        .containsExactly(
            "verilog/gate_lut_3.v", "verilog/gate_lut_2.v", "verilog/gate.v", "verilog/gate.f")
        .inOrder();
    assertThat(files.get(3).text()).isEqualTo("gate_lut_3.v\ngate_lut_2.v\ngate.v\n");
    assertThat(files.get(1).text())
        .contains("\n  gate_lut_3 #(2, 4'h8) value_cell (value, point);\n");
    assertThat(files.get(2).text())
        .contains(
            """
              // set if an odd number is
              gate_lut_3 #(3, 8'h96) odd_cell (odd, {gate_lut[0], gate_lut[2:1]});
            """);
    assertThat(files.get(2).text())
        .contains("\n  gate_lut_3 #(2, 4'h1) held_cell (held, {both_value, odd});\n");
    assertThat(files.get(2).text()).contains("\n  gate_lut_3 #(1, 2'h1) shut_cell (shut, odd);\n");
  }

  @Test
  void files_blockOfLuts_readsLikeThis() {
    assertThat(new Verilog().files(gate()).get(0).text())
        .isEqualTo(
            """
            //----------------------------------------------------------------------------------------------
            // Block gate_lut_3
            //
            // One LUT: the value is bit point of the truth table, bit i while the inputs count i, input
            // 0 being the least significant.
            //
            // Every LUT of a network is an instance of this block. The attribute keep_hierarchy asks
            // tools to leave each as it is, so that as many LUTs come out as are estimated. Tools that
            // call that otherwise want their word here; those that drop attributes have to be told not
            // to flatten this block.
            //
            // For a LUT primitive of the device, replace the one assignment by an instance of it: its
            // inputs are those of point, the rest 0, and its table is the truth table, as many times
            // side by side as fill it.
            //
            // Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
            //----------------------------------------------------------------------------------------------

            `default_nettype none

            (* keep_hierarchy = "yes" *)
            module gate_lut_3 #(
              parameter INPUTS = 1,
              parameter [(1 << INPUTS) - 1:0] TRUTH = 2'h0
            ) (
              output wire value,
              input  wire [INPUTS - 1:0] point
            );

              assign value = TRUTH[point];

            endmodule

            `default_nettype wire
            """);
  }

  @Test
  @CallsTools
  void files_portsCalledAsTheBlockOfLuts_pleaseLintersAndSimulateAlike() {
    Emitted emitted = new Emitted(gate(), VerilogOptions.standard(), directory);
    emitted.checkLint();
    assertThat(emitted.simulate(Bench.of(gate(), 100, 1, UnaryOperator.identity())))
        .isEqualTo("cycles 100 errors 0\n");
  }

  @Test
  void files_noLuts_haveNoBlockOfThem() {
    assertThat(new Verilog().files(SampleCircuits.logic())).hasSize(2);
  }

  @Test
  void files_assignments_haveNoBlockOfLuts() {
    VerilogOptions options = VerilogOptions.standard().withLut(new VerilogOptions.LutAssignment());
    List<OutputFile> files = new Verilog(options).files(gate());
    assertThat(files).hasSize(3);
    assertThat(files.get(1).text())
        .contains(
            """
              localparam [7:0] odd_table = 8'h96;
              assign odd = odd_table[{gate_lut[0], gate_lut[2:1]}];
            """);
  }

  @Test
  void lutBlock_textThatEndsTheAttribute_throws() {
    IllegalArgumentException fault =
        assertThrows(
            IllegalArgumentException.class, () -> new VerilogOptions.LutBlock("keep *) x (* y"));
    assertThat(fault)
        .hasMessageThat()
        .isEqualTo(
            "LUT block attribute: a name, or a name and a quoted text or number, is expected,"
                + " found \"keep *) x (* y\"");
  }
}

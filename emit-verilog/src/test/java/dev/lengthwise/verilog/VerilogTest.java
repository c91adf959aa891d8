package dev.lengthwise.verilog;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class VerilogTest {

  private static Circuit tidegate() {
    CircuitBuilder c =
        Circuit.named("tidegate_lane", "Says how long an instruction is.")
            .reset(Reset.ACTIVE_LOW)
            .fact("levels", "2");
    Signal code = c.input("code", 2, "low bits of the first byte");
    Signal wide = c.input("wide", 1, "wide operands");
    c.section("Length");
    Signal words = c.named(c.lookup(code, Contents.of(2, 1, 2, 1, 3)), "base_length");
    c.comment(words, "from the table");
    Signal length = c.register("length", 3, 1);
    c.drive(length, c.add(words, wide, 3), c.equal(code, 3));
    c.output("length", length, "bytes");
    return c.build();
  }

  @Test
  void files_smallBlock_readLikeThis() {
    List<OutputFile> files = new Verilog().files(tidegate());
    assertThat(files.get(1))
        .isEqualTo(new OutputFile("verilog/tidegate_lane.f", "tidegate_lane.v\n"));
    assertThat(files.get(0).path()).isEqualTo("verilog/tidegate_lane.v");
    assertThat(files.get(0).text())
        .isEqualTo(
            """
            //----------------------------------------------------------------------------------------------
            // Block tidegate_lane
            //
            // Says how long an instruction is.
            //
            // Ports, with their widths in bits:
            //   input   clock       1  rising edge
            //   input   reset_n     1  synchronous, 0 to reset
            //   input   code        2  low bits of the first byte
            //   input   wide        1  wide operands
            //   output  length      3  bytes
            //
            // Facts:
            //   levels: 2
            //
            // Figures of area, levels and speed are estimates. Timing closure and functional safety are
            // for the device vendor's sign-off tools, local codes and licensed practice to establish.
            //----------------------------------------------------------------------------------------------

            `default_nettype none

            module tidegate_lane (
              input  wire       clock,
              input  wire       reset_n,
              input  wire [1:0] code,
              input  wire       wide,
              output wire [2:0] length
            );

              wire [1:0] base_length;
              reg  [2:0] length_q;

              // ---- Length ----
              // from the table
              function [1:0] base_length_table;
                input [1:0] address;
                casez (address)
                  2'b01: base_length_table = 2'h2;
                  2'b11: base_length_table = 2'h3;
                  default: base_length_table = 2'h1;
                endcase
              endfunction
              assign base_length = base_length_table(code);

              // ---- Registers ----
              always @(posedge clock) begin
                if (!reset_n) begin
                  length_q <= 3'h1;
                end else if (code == 2'h3) begin
                  length_q <= {1'b0, base_length} + {2'h0, wide};
                end
              end

              // ---- Outputs ----
              assign length = length_q;

            endmodule

            `default_nettype wire
            """);
  }

  @Test
  void files_choicesAlike_areWrittenOnce() {
    String text = new Verilog().files(SampleCircuits.logic()).get(0).text();
    assertThat(text).contains("assign start_alike = (row < 3'h3) ? code : second;\n");
    assertThat(text).contains("assign inside_alike = (row[1:0] == 2'h0) ? second :\n");
    assertThat(text).contains("((row[1:0] == 2'h1) | (row[1:0] == 2'h2)) ? code : second;\n");
    assertThat(text).contains("assign end_alike = (row[1:0] == 2'h0) ? second : code;\n");
    assertThat(text).contains("assign all_alike = code;\n");
    assertThat(text).contains("3'h0, 3'h1: six = code[3:0];\n");
    assertThat(text).doesNotContain("3'h4");
  }

  @ParameterizedTest
  @MethodSource("dev.lengthwise.verilog.VerilogToolsTest#samples")
  void files_samples_areTidyAsciiAndAlikeEachTime(Circuit circuit) {
    List<OutputFile> files = new Verilog().files(circuit);
    assertThat(new Verilog().files(circuit)).isEqualTo(files);
    for (OutputFile file : files) {
      for (String line : file.text().split("\n", -1)) {
        assertWithMessage(file.path()).that(line).matches("([ -~]*[!-~])?");
      }
    }
  }

  @Test
  void files_hostileText_staysInComments() {
    String text = new Verilog().files(SampleCircuits.hostile()).get(0).text();
    for (String line : text.split("\n", -1)) {
      if (!line.strip().startsWith("//")) {
        assertThat(line).doesNotContainMatch("evil|include|define|word|xxx|lint_off|translate|/");
      } else {
        assertThat(line)
            .doesNotContainMatch("^ *// *(verilator|pragma|synthesis|synopsys|translate_off)\\b");
      }
    }
    assertThat(text).contains("caf\\u00e9");
    assertThat(text.split("\nendmodule\n", -1)).hasLength(2);
  }

  @Test
  void files_lutWiderThanPrimitive_throws() {
    VerilogOptions options =
        VerilogOptions.standard()
            .withLut(
                new VerilogOptions.LutPrimitive(
                    "lut4_cell", "INIT", List.of("A", "B", "C", "D"), "Y"));
    IllegalArgumentException fault =
        assertThrows(
            IllegalArgumentException.class,
            () -> new Verilog(options).files(SampleCircuits.lookups()));
    assertThat(fault)
        .hasMessageThat()
        .isEqualTo("LUT primitive lut4_cell: a LUT must have at most 4 inputs, found 6");
  }

  @Test
  void withBlockRam_textThatEndsTheAttribute_throws() {
    IllegalArgumentException fault =
        assertThrows(
            IllegalArgumentException.class,
            () -> VerilogOptions.standard().withBlockRam("keep *) wire x; (* y"));
    assertThat(fault)
        .hasMessageThat()
        .isEqualTo(
            "block RAM attribute: a name, or a name and a quoted text or number, is expected,"
                + " found \"keep *) wire x; (* y\"");
  }

  @Test
  void lutPrimitive_faultyNames_throw() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new VerilogOptions.LutPrimitive("lut", "T", List.of("A", "module"), "Y")))
        .hasMessageThat()
        .isEqualTo("LUT primitive: the input must be a Verilog name, found \"module\"");
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new VerilogOptions.LutPrimitive("lut", "T", List.of("A", "A"), "Y")))
        .hasMessageThat()
        .isEqualTo("LUT primitive: every port must have a name of its own, found [A, A], Y");
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new VerilogOptions.LutPrimitive("lut", "T", List.of(), "Y")))
        .hasMessageThat()
        .isEqualTo("LUT primitive: 1 to 8 inputs are expected, found 0");
  }
}

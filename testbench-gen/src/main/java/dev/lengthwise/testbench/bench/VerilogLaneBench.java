package dev.lengthwise.testbench.bench;

import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testbench.vector.VectorKind;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/** Prints the self-checking Verilog bench of a lane. */
public final class VerilogLaneBench {

  private static final int KIND_BITS =
      32 - Integer.numberOfLeadingZeros(VectorKind.values().length - 1);

  private VerilogLaneBench() {}

  public static String text(Design design, LaneVectors vectors) {
    List<String> modes = design.lane().instructionSet().table().modes();
    BenchNames names = new BenchNames(design.name(), TEMPLATE, 0, "dut_");
    String modeRegisters =
        modes.stream().map(mode -> "  reg " + names.of(mode) + ";\n").collect(Collectors.joining());
    String modePorts =
        modes.stream()
            .map(mode -> "    ." + mode + "(" + names.of(mode) + "),\n")
            .collect(Collectors.joining());
    StringBuilder assignModes = new StringBuilder();
    for (int i = 0; i < modes.size(); i++) {
      assignModes
          .append("      ")
          .append(names.of(modes.get(i)))
          .append(" = modes[")
          .append(i)
          .append("];\n");
    }
    String modeFormat =
        modes.stream().map(mode -> " " + mode + " %b").collect(Collectors.joining());
    String modeArguments =
        modes.stream().map(mode -> ", " + names.of(mode)).collect(Collectors.joining());
    return TEMPLATE
        .replace("@NAME@", design.name())
        .replace("@COUNT@", Integer.toString(vectors.vectors().size()))
        .replace("@WORD@", Integer.toString(vectors.wordBits() - 1))
        .replace("@CODE@", Integer.toString(8 * (1 + design.lane().lookahead()) - 1))
        .replace("@LENGTH@", Integer.toString(design.lane().lengthBits() - 1))
        .replace("@KINDS@", Integer.toString(VectorKind.values().length - 1))
        .replace("@KIND@", Integer.toString(KIND_BITS - 1))
        .replace("@MODE_REGISTERS@", modeRegisters)
        .replace("@MODE_PORTS@", modePorts)
        .replace("@ASSIGN_MODES@", assignModes)
        .replace("@MODE_FORMAT@", modeFormat)
        .replace("@MODE_ARGUMENTS@", modeArguments)
        .replace("@COVERAGE@", coverage(vectors.counts()));
  }

  private static String coverage(Map<VectorKind, Integer> counts) {
    StringBuilder text = new StringBuilder();
    int index = 0;
    for (Map.Entry<VectorKind, Integer> entry : counts.entrySet()) {
      text.append(
          String.format(
              Locale.ROOT,
              "    $display(\"  %s: %%0d of %s\", ran[%s]);\n",
              entry.getKey().label(),
              entry.getValue(),
              index++));
    }
    return text.toString();
  }

  private static final String TEMPLATE =
      """
      // Self-checking bench of @NAME@.
      // Reads golden vectors, applies each, and compares the length. Prints the number of vectors,
      // what they cover and the first mismatches; ends with a status other than 0 if there is one.
      // The vectors are read from the file given by +vectors=FILE.

      `default_nettype none

      module @NAME@_tb;

        localparam COUNT = @COUNT@;
        localparam SHOWN = 10;

        // word: kind, length, modes, code; see the vector file
        reg [@WORD@:0] vectors [0:COUNT-1];
        reg [@WORD@:0] word;
        reg [8*1024-1:0] file;
        reg [7:0] kind;
        reg [7:0] expected;
        reg [7:0] modes;
        reg [@CODE@:0] code;
      @MODE_REGISTERS@  wire [@LENGTH@:0] length;
        integer ran [0:@KINDS@];
        integer index;
        integer mismatches;

        @NAME@ dut (
          .code(code),
      @MODE_PORTS@    .length(length)
        );

        initial begin
          for (index = 0; index <= @KINDS@; index = index + 1) begin
            ran[index] = 0;
          end
          mismatches = 0;
          if ($value$plusargs("vectors=%s", file) == 0) begin
            file = "../vectors/@NAME@.hex";
          end
          $readmemh(file, vectors);
          for (index = 0; index < COUNT; index = index + 1) begin
            word = vectors[index];
            if (^word === 1'bx) begin
              $display("FAIL @NAME@: no vector %0d in %0s", index, file);
              $fatal(1, "vectors cannot be read");
            end
            {kind, expected, modes, code} = word;
      @ASSIGN_MODES@      #1;
            ran[kind[@KIND@:0]] = ran[kind[@KIND@:0]] + 1;
            if ({{(8 - @LENGTH@ - 1){1'b0}}, length} !== expected) begin
              mismatches = mismatches + 1;
              if (mismatches <= SHOWN) begin
                $display("mismatch at vector %0d: code %h@MODE_FORMAT@ expected %0d found %0d",
                         index, code@MODE_ARGUMENTS@, expected, length);
              end
            end
          end
          $display("vectors: %0d", COUNT);
      @COVERAGE@    $display("mismatches: %0d", mismatches);
          if (mismatches != 0) begin
            $display("FAIL @NAME@");
            $fatal(1, "the circuit differs from the golden vectors");
          end
          $display("PASS @NAME@");
          $finish;
        end

      endmodule

      `default_nettype wire
      """;
}

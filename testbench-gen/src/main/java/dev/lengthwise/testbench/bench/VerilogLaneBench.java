package dev.lengthwise.testbench.bench;

import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.vector.LaneVectors;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/** Prints the self-checking Verilog bench of a lane. */
public final class VerilogLaneBench extends LaneBench {

  private static final int KIND_BITS = 32 - Integer.numberOfLeadingZeros(KINDS - 1);

  private VerilogLaneBench(Design design, LaneVectors vectors) {
    super(design, vectors, TEMPLATE);
  }

  public static String text(Design design, LaneVectors vectors) {
    return new VerilogLaneBench(design, vectors).text();
  }

  @Override
  String declaration(String signal) {
    return "  reg " + signal + ";\n";
  }

  @Override
  String connection(String mode, String signal) {
    return "    ." + mode + "(" + signal + "),\n";
  }

  @Override
  String assignment(String signal, int bit) {
    return "      " + signal + " = modes[" + bit + "];\n";
  }

  @Override
  String coverage(String label, int kind, int of) {
    return String.format(
        Locale.ROOT, "    $display(\"  %s: %%0d of %d\", ran[%d]);\n", label, of, kind);
  }

  @Override
  Map<String, String> own() {
    return Map.of(
        "@WORD@", Integer.toString(wordBits() - 1),
        "@CODE@", Integer.toString(codeBits() - 1),
        "@LENGTH@", Integer.toString(lengthBits() - 1),
        "@KIND@", Integer.toString(KIND_BITS - 1),
        "@MODE_FORMAT@",
            modes.stream().map(mode -> " " + mode + " %b").collect(Collectors.joining()),
        "@MODE_ARGUMENTS@",
            modes.stream().map(mode -> ", " + signal(mode)).collect(Collectors.joining()));
  }

  private static final String TEMPLATE =
      """
      // Self-checking bench of @NAME@.
      // Reads golden vectors, applies each, and compares the length. Prints the number of vectors,
      // what they cover and the first mismatches; ends with a status other than 0 if there is one.
      // The vectors are read from the file given by +vectors=FILE.

      """
          + VerilogPieces.OPENING
          + """
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
          @DECLARATIONS@  wire [@LENGTH@:0] length;
            integer ran [0:@KINDS@];
            integer index;
            integer mismatches;

            @NAME@ dut (
              .code(code),
          @PORTS@    .length(length)
            );

            initial begin
              for (index = 0; index <= @KINDS@; index = index + 1) begin
                ran[index] = 0;
              end
              mismatches = 0;
          """
          + VerilogPieces.FILE
          + """
              $readmemh(file, vectors);
              for (index = 0; index < COUNT; index = index + 1) begin
                word = vectors[index];
                if (^word === 1'bx) begin
                  $display("FAIL @NAME@: no vector %0d in %0s", index, file);
                  $fatal(1, "vectors cannot be read");
                end
                {kind, expected, modes, code} = word;
          @ASSIGNMENTS@      #1;
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
          """
          + VerilogPieces.CLOSING;
}

package dev.lengthwise.testbench.bench;

/** What the Verilog benches share. */
final class VerilogPieces {

  /** The start of the module. */
  static final String OPENING =
      """
      `default_nettype none

      module @NAME@_tb;

      """;

  /** Takes the name of the file of vectors. */
  static final String FILE =
      """
          if ($value$plusargs("vectors=%s", file) == 0) begin
            file = "../vectors/@NAME@.hex";
          end
      """;

  /** The verdict and all that follows. */
  static final String CLOSING =
      """
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

  private VerilogPieces() {}

  /** Returns the range of a declaration and the space behind it; empty for one bit. */
  static String range(int width) {
    return width == 1 ? "" : "[" + (width - 1) + ":0] ";
  }
}

package dev.lengthwise.testbench.bench;

import dev.lengthwise.testbench.cycle.CycleFields;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Prints the self-checking Verilog bench of a clocked design. */
public final class VerilogCycleBench extends CycleBench {

  private VerilogCycleBench(String design, CycleFields fields) {
    super(design, fields, TEMPLATE, "");
  }

  public static String text(String name, CycleFields fields) {
    return new VerilogCycleBench(name, fields).text();
  }

  @Override
  String drivenSignal(String signal, int width) {
    return "  reg " + VerilogPieces.range(width) + signal + ";\n";
  }

  @Override
  String readSignal(String signal, int width) {
    return "  wire " + VerilogPieces.range(width) + signal + ";\n";
  }

  @Override
  String connection(String port, String signal) {
    return ",\n    ." + port + "(" + signal + ")";
  }

  @Override
  String assignment(String signal, String value) {
    return "        " + signal + " = " + value + ";\n";
  }

  @Override
  String comparison(CycleFields.Output output, String signal) {
    String and = output.onlyWith().isEmpty() ? "" : " && " + field(output.onlyWith(), 1);
    int more = widest() - output.width();
    return String.format(
        Locale.ROOT,
        "        if (checks[%d]%s) begin\n          compare(\"%s\", %s, %s);\n        end\n",
        output.check(),
        and,
        output.port(),
        widened(field(output.port(), output.width()), more),
        widened(signal, more));
  }

  private static String widened(String text, int more) {
    return more == 0 ? text : "{" + more + "'b0, " + text + "}";
  }

  /** The bits of the task's arguments. */
  private int widest() {
    return Math.max(
        32, fields.outputs().stream().mapToInt(CycleFields.Output::width).max().orElse(0));
  }

  @Override
  String counter(int number) {
    return "  integer counted_" + number + ";\n";
  }

  @Override
  String count(int number, List<String> terms) {
    return String.format(
        Locale.ROOT,
        "          counted_%1$d = counted_%1$d + (((%2$s) === 1'b1) ? 1 : 0);\n",
        number,
        String.join(" && ", terms));
  }

  @Override
  String report(int number, String label) {
    return String.format(Locale.ROOT, "    $display(\"  %s: %%0d\", counted_%d);\n", label, number);
  }

  @Override
  String isChecked(int bit) {
    return "checks[" + bit + "]";
  }

  @Override
  String is(String signal, boolean one) {
    return one ? signal : "!" + signal;
  }

  @Override
  String bits(int from, int width) {
    return width == 1 ? "word[" + from + "]" : "word[" + (from + width - 1) + ":" + from + "]";
  }

  @Override
  Map<String, String> own() {
    StringBuilder zeros = new StringBuilder();
    for (int i = 0; i < fields.counters().size(); i++) {
      zeros.append("    counted_").append(i).append(" = 0;\n");
    }
    return Map.of(
        "@WORD@", Integer.toString(fields.wordBits() - 1),
        "@WIDTH@", Integer.toString(fields.wordBits()),
        "@CHECKS@", field(CycleFields.CHECKS, 8),
        "@WIDEST@", Integer.toString(widest() - 1),
        "@ZEROS@", zeros.toString());
  }

  private static final String TEMPLATE =
      """
      // Self-checking bench of @NAME@.
      // Reads golden vectors, one cycle a line, applies the inputs of each and compares the outputs
      // that are fixed in it. Prints the number of cycles, what they cover and the first mismatches;
      // ends with a status other than 0 if there is one.
      // The vectors are read from the file given by +vectors=FILE; its first line counts them.

      """
          + VerilogPieces.OPENING
          + """
            localparam SHOWN = 10;

            reg clock;
            reg done;
            reg reset;
            reg [@WORD@:0] word;
            reg [8*1024-1:0] file;
            reg [7:0] checks;
            reg [31:0] count;
          @DECLARATIONS@  integer handle;
            integer index;
            integer mismatches;
          @COUNTERS@
            @NAME@ dut (
              .clock(clock),
              .reset(reset)@PORTS@
            );

            task compare(
              input [8*24-1:0] port,
              input [@WIDEST@:0] expected,
              input [@WIDEST@:0] found
            );
              begin
                if (found !== expected) begin
                  mismatches = mismatches + 1;
                  if (mismatches <= SHOWN) begin
                    $display("mismatch at cycle %0d: %0s expected %h found %h",
                             index, port, expected, found);
                  end
                end
              end
            endtask

            // Counters start and are reported in processes of their own: Verilator 5.006 takes a variable
            // that one process sets before a loop with delays for a constant behind it.
            initial begin
              mismatches = 0;
          @ZEROS@  end

            initial begin
              done = 0;
              clock = 0;
              reset = 1;
              word = 0;
          """
          + VerilogPieces.FILE
          + """
              handle = $fopen(file, "r");
              count = 0;
              if (handle == 0 || $fscanf(handle, "%h", count) != 1 || count == 0) begin
                $display("FAIL @NAME@: no vectors in %0s", file);
                $fatal(1, "vectors cannot be read");
              end
              for (index = -2; index < $signed(count); index = index + 1) begin
                // two cycles of reset come first
                if (index >= 0) begin
                  reset = 0;
                  word = {@WIDTH@{1'bx}};
                  if ($fscanf(handle, "%h", word) != 1 || ^word === 1'bx) begin
                    $display("FAIL @NAME@: no vector %0d in %0s", index, file);
                    $fatal(1, "vectors cannot be read");
                  end
                end
                checks = @CHECKS@;
          @ASSIGNMENTS@        #1;
          @COMPARISONS@        // a signal may be unknown during reset
                if (index >= 0) begin
          @COUNTS@        end
                clock = 1;
                #1;
                clock = 0;
              end
              done = 1;
            end

            always @(posedge done) begin
              $display("vectors: %0d", count);
          @REPORTS@    $display("mismatches: %0d", mismatches);
          """
          + VerilogPieces.CLOSING;
}

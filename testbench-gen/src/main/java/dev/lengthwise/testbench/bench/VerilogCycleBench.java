package dev.lengthwise.testbench.bench;

import dev.lengthwise.testbench.cycle.CycleFields;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Prints the self-checking Verilog bench of a clocked design. */
public final class VerilogCycleBench {

  private final CycleFields fields;
  private final Map<String, Integer> low;

  private final BenchNames names;

  private VerilogCycleBench(String design, CycleFields fields) {
    this.fields = fields;
    this.names = new BenchNames(design, TEMPLATE, fields.counters().size(), "");
    this.low = fields.lowBits();
  }

  public static String text(String name, CycleFields fields) {
    return new VerilogCycleBench(name, fields).text(name);
  }

  private String text(String name) {
    StringBuilder declarations = new StringBuilder();
    StringBuilder ports = new StringBuilder();
    StringBuilder assignments = new StringBuilder();
    StringBuilder comparisons = new StringBuilder();
    for (CycleFields.Input input : fields.inputs()) {
      declarations.append(
          String.format(
              Locale.ROOT, "  reg %s%s;\n", range(input.width()), names.of(input.port())));
      ports.append(
          String.format(Locale.ROOT, ",\n    .%s(%s)", input.port(), names.of(input.port())));
      assignments.append(
          String.format(
              Locale.ROOT,
              "        %s = %s;\n",
              names.of(input.port()),
              field(input.port(), input.width())));
    }
    for (CycleFields.Output output : fields.outputs()) {
      declarations.append(
          String.format(
              Locale.ROOT, "  wire %s%s;\n", range(output.width()), names.of(output.port())));
      ports.append(
          String.format(Locale.ROOT, ",\n    .%s(%s)", output.port(), names.of(output.port())));
      comparisons.append(comparison(output));
    }
    StringBuilder counters = new StringBuilder();
    StringBuilder zeros = new StringBuilder();
    StringBuilder counts = new StringBuilder();
    StringBuilder reports = new StringBuilder();
    for (int i = 0; i < fields.counters().size(); i++) {
      CycleFields.Counter counter = fields.counters().get(i);
      counters.append(String.format(Locale.ROOT, "  integer counted_%d;\n", i));
      zeros.append(String.format(Locale.ROOT, "    counted_%d = 0;\n", i));
      counts.append(
          String.format(
              Locale.ROOT,
              "          counted_%1$d = counted_%1$d + (((%2$s) === 1'b1) ? 1 : 0);\n",
              i,
              condition(counter)));
      reports.append(
          String.format(
              Locale.ROOT, "    $display(\"  %s: %%0d\", counted_%d);\n", counter.label(), i));
    }
    return TEMPLATE
        .replace("@NAME@", name)
        .replace("@WORD@", Integer.toString(fields.wordBits() - 1))
        .replace("@WIDTH@", Integer.toString(fields.wordBits()))
        .replace("@CHECKS@", field(CycleFields.CHECKS, 8))
        .replace("@DECLARATIONS@", declarations)
        .replace("@PORTS@", ports)
        .replace("@ASSIGNMENTS@", assignments)
        .replace("@COMPARISONS@", comparisons)
        .replace("@COUNTERS@", counters)
        .replace("@ZEROS@", zeros)
        .replace("@COUNTS@", counts)
        .replace("@REPORTS@", reports)
        .replace("@WIDEST@", Integer.toString(widest() - 1));
  }

  /** The bits of the task's arguments. */
  private int widest() {
    return Math.max(
        32, fields.outputs().stream().mapToInt(CycleFields.Output::width).max().orElse(0));
  }

  private String condition(CycleFields.Counter counter) {
    List<String> terms = new ArrayList<>();
    if (counter.check() >= 0) {
      terms.add("checks[" + counter.check() + "]");
    }
    counter.ones().forEach(port -> terms.add(names.of(port)));
    counter.zeros().forEach(port -> terms.add("!" + names.of(port)));
    return String.join(" && ", terms);
  }

  private static String range(int width) {
    return width == 1 ? "" : "[" + (width - 1) + ":0] ";
  }

  private String field(String port, int width) {
    int from = low.get(port);
    return width == 1 ? "word[" + from + "]" : "word[" + (from + width - 1) + ":" + from + "]";
  }

  private String comparison(CycleFields.Output output) {
    String and = output.onlyWith().isEmpty() ? "" : " && " + field(output.onlyWith(), 1);
    int width = output.width();
    String expected = field(output.port(), width);
    String found = names.of(output.port());
    if (width < widest()) {
      expected = String.format(Locale.ROOT, "{%d'b0, %s}", widest() - width, expected);
      found = String.format(Locale.ROOT, "{%d'b0, %s}", widest() - width, found);
    }
    return String.format(
        Locale.ROOT,
        "        if (checks[%d]%s) begin\n          compare(\"%s\", %s, %s);\n        end\n",
        output.check(),
        and,
        output.port(),
        expected,
        found);
  }

  private static final String TEMPLATE =
      """
      // Self-checking bench of @NAME@.
      // Reads golden vectors, one cycle a line, applies the inputs of each and compares the outputs
      // that are fixed in it. Prints the number of cycles, what they cover and the first mismatches;
      // ends with a status other than 0 if there is one.
      // The vectors are read from the file given by +vectors=FILE; its first line counts them.

      `default_nettype none

      module @NAME@_tb;

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
          if ($value$plusargs("vectors=%s", file) == 0) begin
            file = "../vectors/@NAME@.hex";
          end
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

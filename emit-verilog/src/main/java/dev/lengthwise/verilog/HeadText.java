package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.text.CommentText;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.FileHead;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;
import java.util.Locale;
import java.util.function.Predicate;

/** Writes the comment at the head of a file and the port list. */
final class HeadText {

  private static final String RULE = "//" + "-".repeat(94);

  private final Circuit circuit;
  private final String caution;
  private final TextSink sink;

  HeadText(EmissionPlan plan, TextSink sink) {
    this.circuit = plan.circuit();
    this.caution = plan.caution();
    this.sink = sink;
  }

  void writeComment() {
    sink.line(RULE);
    sink.line("// Block " + circuit.name());
    sink.line("//");
    if (!circuit.summary().isBlank()) {
      sink.comment("//", circuit.summary());
      sink.line("//");
    }
    writePorts();
    if (!circuit.facts().isEmpty()) {
      sink.line("//");
      sink.line("// Facts:");
      circuit.facts().forEach((fact, value) -> writeItem("", fact + ": " + value));
    }
    sink.line("//");
    sink.comment("//", caution);
    sink.line(RULE);
  }

  private void writePorts() {
    List<Port> ports = FileHead.ports(circuit);
    int longest = ports.stream().mapToInt(port -> port.name().length()).max().orElse(0);
    sink.line("// Ports, with their widths in bits:");
    for (Port port : ports) {
      String start =
          String.format(
              Locale.ROOT,
              "%-6s  %-" + longest + "s  %4d  ",
              port.direction() == Port.Direction.INPUT ? "input" : "output",
              port.name(),
              port.width());
      writeItem(start, port.doc());
    }
  }

  /** Writes an item of a list, the lines after its first indented as far as its text. */
  private void writeItem(String start, String text) {
    String indent = " ".repeat(start.isEmpty() ? 2 : start.length());
    List<String> lines = CommentText.wrap(text, 92 - start.length());
    if (lines.isEmpty()) {
      sink.line("//   " + start);
    }
    for (int i = 0; i < lines.size(); i++) {
      sink.line("//   " + (i == 0 ? start : indent) + lines.get(i));
    }
  }

  /**
   * Writes the module line and its ports, and indents what follows; {@code isVariable} tells which
   * outputs are variables.
   */
  void writeModule(Predicate<String> isVariable) {
    List<Port> ports = FileHead.ports(circuit);
    int range =
        ports.stream().mapToInt(port -> Expressions.range(port.width()).length()).max().orElse(0);
    sink.open("module " + circuit.name() + " (");
    for (int i = 0; i < ports.size(); i++) {
      Port port = ports.get(i);
      String kind =
          port.direction() == Port.Direction.INPUT
              ? "input  wire"
              : isVariable.test(port.name()) ? "output reg " : "output wire";
      boolean warned = CppWords.contains(port.name());
      if (warned) {
        sink.line("// verilator lint_off SYMRSVDWORD");
      }
      sink.line(
          kind
              + " "
              + (range == 0 ? "" : pad(Expressions.range(port.width()), range) + " ")
              + port.name()
              + (i == ports.size() - 1 ? "" : ","));
      if (warned) {
        sink.line("// verilator lint_on SYMRSVDWORD");
      }
    }
    sink.between(");");
  }

  /** Returns a text with spaces before it. */
  static String pad(String text, int width) {
    return " ".repeat(Math.max(0, width - text.length())) + text;
  }
}

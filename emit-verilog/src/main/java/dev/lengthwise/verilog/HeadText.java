package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.FileHead;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;
import java.util.function.Predicate;

/** Writes the module line and the port list. */
final class HeadText {

  private final Circuit circuit;
  private final TextSink sink;

  HeadText(EmissionPlan plan, TextSink sink) {
    this.circuit = plan.circuit();
    this.sink = sink;
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

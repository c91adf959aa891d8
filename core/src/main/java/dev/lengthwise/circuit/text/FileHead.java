package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** What the head of a block's file says, in comments of any language. */
public final class FileHead {

  private final Circuit circuit;
  private final String mark;
  private final TextSink sink;

  private FileHead(Circuit circuit, String mark, TextSink sink) {
    this.circuit = circuit;
    this.mark = mark;
    this.sink = sink;
  }

  /**
   * Writes the head: what the block does, its ports, its facts and the caution.
   *
   * @param plan the block
   * @param mark what starts a comment up to the line's end
   * @param sink where it goes
   */
  public static void write(EmissionPlan plan, String mark, TextSink sink) {
    String rule = rule(mark);
    Circuit circuit = plan.circuit();
    sink.line(rule).line(mark + " Block " + circuit.name()).line(mark);
    if (!circuit.summary().isBlank()) {
      sink.comment(mark, circuit.summary()).line(mark);
    }
    FileHead head = new FileHead(circuit, mark, sink);
    head.writePorts();
    if (!circuit.facts().isEmpty()) {
      sink.line(mark).line(mark + " Facts:");
      circuit.facts().forEach((fact, value) -> head.writeItem("", fact + ": " + value));
    }
    sink.line(mark).comment(mark, plan.caution()).line(rule);
  }

  /** Returns the line above and below a head. */
  static String rule(String mark) {
    return mark + "-".repeat(96 - mark.length());
  }

  private void writePorts() {
    List<Port> ports = ports(circuit);
    int longest = ports.stream().mapToInt(port -> port.name().length()).max().orElse(0);
    sink.line(mark + " Ports, with their widths in bits:");
    for (Port port : ports) {
      String start =
          String.format(
              Locale.ROOT,
              "%-6s  %-" + Math.max(1, longest) + "s  %4d  ",
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
      sink.line(mark + "   " + start);
    }
    for (int i = 0; i < lines.size(); i++) {
      sink.line(mark + "   " + (i == 0 ? start : indent) + lines.get(i));
    }
  }

  /**
   * Returns all ports of a block: clock and reset if it has them, then the declared ones.
   *
   * @param circuit the block
   * @return the ports
   */
  public static List<Port> ports(Circuit circuit) {
    List<Port> ports = new ArrayList<>();
    if (circuit.isClocked()) {
      ports.add(new Port("clock", Port.Direction.INPUT, 1, "rising edge"));
    }
    if (circuit.isReset()) {
      ports.add(
          circuit.reset() == Reset.ACTIVE_LOW
              ? new Port("reset_n", Port.Direction.INPUT, 1, "synchronous, 0 to reset")
              : new Port("reset", Port.Direction.INPUT, 1, "synchronous, 1 to reset"));
    }
    ports.addAll(circuit.ports());
    return ports;
  }
}

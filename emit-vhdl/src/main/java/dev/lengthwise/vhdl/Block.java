package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.text.CommentText;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Writes the file of one block: head, entity, architecture. */
final class Block {

  private static final String CAUTION =
      "Figures of cost and speed are estimates. Timing closure and safety are for the vendor's"
          + " sign-off tools, local codes and licensed practice.";

  private final Circuit circuit;
  private final EmissionPlan plan;
  private final Functions functions;
  private final Expressions expressions;
  private final Tables tables;
  private final TextSink sink = new TextSink();

  private Block(Circuit circuit) {
    this.circuit = circuit;
    this.plan = EmissionPlan.of(circuit);
    this.functions = new Functions(plan);
    this.expressions = new Expressions(plan, functions);
    this.tables = new Tables(plan);
  }

  /** Returns the text of a block's file. */
  static String text(Circuit circuit) {
    Block block = new Block(circuit);
    block.head();
    block.entity();
    block.architecture();
    return block.sink.text();
  }

  /** Returns all ports: clock and reset if the block has them, then the declared ones. */
  static List<Port> ports(Circuit circuit) {
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

  private void head() {
    sink.line("-- " + circuit.name()).line("--");
    sink.comment("--", circuit.summary()).line("--").line("-- Ports");
    List<Port> ports = ports(circuit);
    int longest = longest(ports.stream().map(Port::name).toList());
    for (Port port : ports) {
      String bits =
          port.width() == 1 ? "  1 bit " : String.format(Locale.ROOT, "%3d bits", port.width());
      String way = port.direction() == Port.Direction.INPUT ? "in " : "out";
      hanging("--   " + padded(port.name(), longest) + "  " + way + "  " + bits + "  ", port.doc());
    }
    if (!circuit.facts().isEmpty()) {
      sink.line("--").line("-- Facts");
      circuit
          .facts()
          .forEach((fact, value) -> sink.comment("--  ", CommentText.oneLine(fact) + ": " + value));
    }
    sink.line("--").comment("--", CAUTION).blank();
  }

  /** Adds a comment whose further lines start below the first one's text. */
  private void hanging(String start, String text) {
    List<String> lines = CommentText.wrap(text, 100 - start.length());
    sink.line(start + (lines.isEmpty() ? "" : lines.get(0)));
    for (int i = 1; i < lines.size(); i++) {
      sink.line("--" + " ".repeat(start.length() - 2) + lines.get(i));
    }
  }

  private void entity() {
    sink.line("library ieee;");
    sink.line("use ieee.std_logic_1164.all;");
    sink.line("use ieee.numeric_std.all;").blank();
    sink.open("entity " + circuit.name() + " is").open("port (");
    List<Port> ports = ports(circuit);
    int longest = longest(ports.stream().map(Port::name).toList());
    for (int i = 0; i < ports.size(); i++) {
      Port port = ports.get(i);
      String way = port.direction() == Port.Direction.INPUT ? " : in  " : " : out ";
      String end = i < ports.size() - 1 ? ";" : "";
      sink.line(padded(port.name(), longest) + way + Literals.subtype(port.width()) + end);
    }
    sink.close(");").close("end entity " + circuit.name() + ";").blank();
  }

  private void architecture() {
    TextSink body = new TextSink();
    new Statements(plan, expressions, tables, body).write();
    sink.open("architecture rtl of " + circuit.name() + " is");
    functions.declare(sink);
    tables.declare(sink);
    memories();
    signals();
    sink.blank().close("begin").blank();
    body.text().strip().lines().forEach(line -> sink.line("  " + line));
    sink.blank().line("end architecture rtl;");
  }

  private void memories() {
    for (Memory memory : plan.memories()) {
      String name = plan.memoryName(memory);
      String type = plan.newName(name + "_type");
      String range = "array (0 to " + (memory.depth() - 1) + ") of ";
      sink.blank();
      sink.comment(
          "--",
          memory.kind() == Memory.Kind.BLOCK
              ? "Block RAM, read before write."
              : "Distributed RAM, read in the same cycle.");
      sink.line("type " + type + " is " + range + Literals.subtype(memory.width()) + ";");
      sink.line("signal " + name + " : " + type + ";");
    }
  }

  private void signals() {
    Map<String, Node> signals = new LinkedHashMap<>();
    for (int place : plan.statements()) {
      if (!plan.isPort(place)) {
        signals.put(plan.name(place).orElseThrow(), plan.node(place));
      }
    }
    expressions.fixedAddresses().forEach((fixed, name) -> signals.put(name, fixed));
    int longest = longest(signals.keySet());
    sink.blank();
    signals.forEach(
        (name, node) ->
            sink.line(
                "signal " + padded(name, longest) + " : " + Literals.subtype(node.width()) + ";"));
  }

  private static int longest(Iterable<String> names) {
    int longest = 0;
    for (String name : names) {
      longest = Math.max(longest, name.length());
    }
    return longest;
  }

  private static String padded(String name, int length) {
    return name + " ".repeat(length - name.length());
  }
}

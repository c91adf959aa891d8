package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.text.Attribute;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.FileHead;
import dev.lengthwise.circuit.text.TextSink;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Writes the file of one block: head, entity, architecture. */
final class Block {

  private final Circuit circuit;
  private final EmissionPlan plan;
  private final Functions functions;
  private final Expressions expressions;
  private final Tables tables;
  private final VhdlOptions options;
  private final Luts luts;
  private final Map<String, String> attributes = new HashMap<>();
  private final TextSink sink = new TextSink();

  private Block(EmissionPlan plan, VhdlOptions options) {
    this.circuit = plan.circuit();
    this.plan = plan;
    this.functions = new Functions(plan);
    this.expressions = new Expressions(plan, functions);
    this.tables = new Tables(plan);
    this.options = options;
    this.luts = new Luts(plan, expressions, options.lut());
  }

  /** Returns the text of a block's file. */
  static String text(EmissionPlan plan, VhdlOptions options) {
    Block block = new Block(plan, options);
    TextSink body = new TextSink();
    new Statements(block.plan, block.expressions, block.tables, block.luts, body).write();
    FileHead.write(plan, "--", block.sink);
    block.sink.blank();
    block.entity();
    block.architecture(body.text());
    return block.sink.text();
  }

  private void entity() {
    sink.line("library ieee;");
    sink.line("use ieee.std_logic_1164.all;");
    sink.line("use ieee.numeric_std.all;");
    luts.context(sink);
    sink.blank();
    sink.open("entity " + circuit.name() + " is").open("port (");
    List<Port> ports = FileHead.ports(circuit);
    int longest = longest(ports.stream().map(Port::name).toList());
    for (int i = 0; i < ports.size(); i++) {
      Port port = ports.get(i);
      String way = port.direction() == Port.Direction.INPUT ? " : in  " : " : out ";
      String end = i < ports.size() - 1 ? ";" : "";
      sink.line(padded(port.name(), longest) + way + Literals.subtype(port.width()) + end);
    }
    sink.close(");").close("end entity " + circuit.name() + ";").blank();
  }

  private void architecture(String body) {
    sink.open("architecture rtl of " + circuit.name() + " is");
    functions.declare(sink);
    tables.declare(sink);
    luts.declare(sink);
    memories();
    signals();
    sink.blank().close("begin").blank();
    body.strip().lines().forEach(line -> sink.line("  " + line));
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
          switch (memory.kind()) {
            case BLOCK ->
                "Block RAM; a word that is read in the cycle that writes it is not defined.";
            case DISTRIBUTED -> "Distributed RAM, read in the same cycle.";
            case REGISTERS -> "Registers, read in the same cycle, cleared all at once.";
          });
      sink.line("type " + type + " is " + range + Literals.subtype(memory.width()) + ";");
      sink.line("signal " + name + " : " + type + ";");
      attribute(memory).ifPresent(attribute -> attribute(attribute, name));
    }
  }

  private Optional<Attribute> attribute(Memory memory) {
    return switch (memory.kind()) {
      case BLOCK ->
          options.blockRam().map(text -> VhdlOptions.attribute("block RAM attribute", text));
      case DISTRIBUTED ->
          options
              .distributedRam()
              .map(text -> VhdlOptions.attribute("distributed RAM attribute", text));
      case REGISTERS -> Optional.empty();
    };
  }

  /** Puts an attribute on a memory; it is declared once and must be no name of the block. */
  private void attribute(Attribute attribute, String memory) {
    AttributeText text = AttributeText.of(attribute);
    String name = attribute.name().toLowerCase(Locale.ROOT);
    String before = attributes.putIfAbsent(name, text.type());
    if (before == null && !plan.newName(name).equals(name)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "RAM attribute %s: the name must not be used in the block, found it in %s",
              attribute.name(),
              circuit.name()));
    } else if (before == null) {
      sink.line(text.declaration());
    } else if (!before.equals(text.type())) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "RAM attribute %s: the values must be of one type, found %s and %s",
              attribute.name(),
              before,
              text.type()));
    }
    sink.line(text.on(memory, "signal"));
  }

  private void signals() {
    Map<String, String> signals = new LinkedHashMap<>();
    for (int place : plan.statements()) {
      if (!plan.isPort(place)) {
        signals.put(plan.name(place).orElseThrow(), Literals.subtype(plan.node(place).width()));
      }
    }
    expressions
        .fixedAddresses()
        .forEach((fixed, name) -> signals.put(name, Literals.subtype(fixed.width())));
    signals.putAll(luts.computed());
    int longest = longest(signals.keySet());
    sink.blank();
    signals.forEach(
        (name, subtype) -> sink.line("signal " + padded(name, longest) + " : " + subtype + ";"));
  }

  private static int longest(Iterable<String> names) {
    int longest = 0;
    for (String name : names) {
      longest = Math.max(longest, name.length());
    }
    return longest;
  }

  static String padded(String name, int length) {
    return name + " ".repeat(length - name.length());
  }
}

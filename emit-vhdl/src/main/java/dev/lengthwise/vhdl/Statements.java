package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Writes the concurrent statements of a block, section by section, in the order of the plan. */
final class Statements {

  private final EmissionPlan plan;
  private final Expressions expressions;
  private final Choices choices;
  private final Tables tables;
  private final Processes processes;
  private final Optional<LutInstances> luts;
  private final TextSink sink;
  private final Set<Integer> instancesWritten = new LinkedHashSet<>();

  Statements(
      EmissionPlan plan,
      Expressions expressions,
      Tables tables,
      Optional<LutInstances> luts,
      TextSink sink) {
    this.plan = plan;
    this.expressions = expressions;
    this.choices = new Choices(expressions);
    this.tables = tables;
    this.processes = new Processes(plan, expressions, sink);
    this.luts = luts;
    this.sink = sink;
  }

  /** Adds all statements. */
  void write() {
    List<Integer> section = new ArrayList<>();
    for (int place : plan.statements()) {
      if (plan.heading(place).isPresent()) {
        section(section);
        section.clear();
      }
      section.add(place);
    }
    section(section);
    sink.blank();
    expressions
        .fixedAddresses()
        .forEach(
            (fixed, name) ->
                sink.line(name + " <= " + Literals.constant(fixed.value(), fixed.width()) + ";"));
    sink.blank();
    plan.portAssignments()
        .forEach(
            (port, driver) -> Lines.add(sink, port + " <= " + expressions.of(driver).text() + ";"));
  }

  private void section(List<Integer> places) {
    if (!places.isEmpty()) {
      plan.heading(places.get(0)).ifPresent(this::heading);
      places.forEach(this::statement);
      processes.write(places);
    }
  }

  private void heading(String text) {
    sink.blank().line("-".repeat(78)).comment("--", text).blank();
  }

  private void statement(int place) {
    Node node = plan.node(place);
    if (node instanceof Node.Register || node instanceof Node.RegisteredRead) {
      return;
    }
    plan.circuit().commentOn(place).ifPresent(text -> sink.blank().comment("--", text));
    String target = plan.name(place).orElseThrow();
    if (node instanceof Node.InstanceOutput output) {
      if (instancesWritten.add(output.instance())) {
        instance(output.instance());
      }
    } else if (node instanceof Node.Select select) {
      choices.assign(target, select, sink);
      sink.blank();
    } else if (node instanceof Node.Lookup lookup) {
      lookup(target, place, lookup);
    } else if (node instanceof Node.DirectRead read) {
      guarded(target, read.address(), node.width(), plan.memoryName(read.memory()));
    } else {
      Lines.add(sink, target + " <= " + expressions.compute(node).text() + ";");
    }
  }

  private void lookup(String target, int place, Node.Lookup node) {
    if (node.lut() && luts.isPresent()) {
      luts.get().write(target, node, sink);
    } else if (node.lut()) {
      Lines.add(sink, target + " <= " + expressions.lut(node).text() + ";");
    } else if (node.address().width() == 1) {
      choices.assign(target, node, sink);
      sink.blank();
    } else {
      guarded(target, node.address(), node.width(), tables.name(place, node.contents()));
    }
  }

  /** Adds an indexed read that an unknown address bit makes unknown. */
  private void guarded(String target, Signal address, int width, String array) {
    String read = array + "(" + expressions.index(address) + ")";
    String guard = Literals.unknown(width) + " when " + expressions.isUnknown(address) + " else ";
    Lines.add(sink, target + " <= " + guard + read + ";");
  }

  private void instance(int place) {
    Circuit.Instance instance = plan.circuit().instances().get(place);
    Circuit block = instance.circuit();
    Map<String, String> actuals = new HashMap<>();
    for (int at : plan.statements()) {
      if (plan.node(at) instanceof Node.InstanceOutput output && output.instance() == place) {
        actuals.put(output.port(), plan.name(at).orElseThrow());
      }
    }
    Iterator<Signal> inputs = instance.inputs().iterator();
    List<Port> ports = Block.ports(block);
    int declared = ports.size() - block.ports().size();
    for (Port port : block.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        actuals.put(port.name(), expressions.of(inputs.next()).text());
      }
    }
    ports.subList(0, declared).forEach(port -> actuals.put(port.name(), port.name()));
    sink.blank().line(plan.instanceName(place) + " : entity work." + block.name());
    sink.line("  port map (");
    int longest = ports.stream().mapToInt(port -> port.name().length()).max().orElseThrow();
    for (int i = 0; i < ports.size(); i++) {
      String formal = ports.get(i).name();
      Lines.add(
          sink,
          2,
          formal
              + " ".repeat(longest - formal.length())
              + " => "
              + actuals.getOrDefault(formal, "open")
              + (i < ports.size() - 1 ? "," : ""));
    }
    sink.line("  );").blank();
  }
}

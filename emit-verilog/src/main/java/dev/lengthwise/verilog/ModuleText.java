package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.text.BlockText;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.FileHead;
import dev.lengthwise.circuit.text.StatementWalk;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Writes one module: head, ports, declarations, logic by section, state, and what is not used. */
final class ModuleText implements BlockText {

  /** From so many choices on, a choice is a case statement. */
  private static final int CASE_CHOICES = 5;

  private final EmissionPlan plan;
  private final Circuit circuit;
  private final VerilogOptions options;
  private final TextSink sink = new TextSink();
  private final Statements statements;
  private final LookupText lookups;
  private Optional<String> pending = Optional.empty();
  private boolean afterLong;

  ModuleText(EmissionPlan plan, VerilogOptions options) {
    this.plan = plan;
    this.circuit = plan.circuit();
    this.options = options;
    this.statements = new Statements(plan, sink);
    this.lookups = new LookupText(plan, statements, options, sink);
  }

  String text() {
    FileHead.write(plan, "//", sink);
    sink.blank().line("`default_nettype none").blank();
    Set<String> variables = new HashSet<>();
    for (int place : plan.statements()) {
      if (plan.isPort(place) && isVariable(place)) {
        variables.add(plan.name(place).orElseThrow());
      }
    }
    new HeadText(plan, sink).writeModule(variables::contains);
    sink.blank();
    writeConstants();
    writeDeclarations();
    StatementWalk.write(plan, this);
    new StateText(plan, statements, sink).write();
    writeOutputs();
    writeUnread();
    sink.blank().close("endmodule").blank().line("`default_nettype wire");
    return sink.text();
  }

  private boolean isVariable(int place) {
    Node node = plan.node(place);
    return node instanceof Node.Register || node instanceof Node.RegisteredRead || isCase(node);
  }

  private static boolean isCase(Node node) {
    return node instanceof Node.Select select && select.choices().size() >= CASE_CHOICES;
  }

  private void writeConstants() {
    for (int place : plan.statements()) {
      if (plan.node(place) instanceof Node.Constant constant) {
        statements.writeComment(place);
        statements.write(
            "localparam "
                + spaced(Expressions.range(constant.width()))
                + plan.name(place).orElseThrow()
                + " =",
            List.of(" " + Expressions.constant(constant.value(), constant.width())));
      }
    }
    sink.blank();
  }

  private static String spaced(String text) {
    return text.isEmpty() ? "" : text + " ";
  }

  /** A declaration: kind, bits, name and what follows it. */
  private record Declaration(String kind, String range, String name, String depth) {}

  private void writeDeclarations() {
    List<Declaration> all = new ArrayList<>();
    for (int place : plan.statements()) {
      Node node = plan.node(place);
      if (!plan.isPort(place) && !(node instanceof Node.Constant)) {
        all.add(
            new Declaration(
                isVariable(place) ? "reg " : "wire",
                Expressions.range(node.width()),
                plan.name(place).orElseThrow(),
                ""));
      }
    }
    for (int instance : plan.instances()) {
      Circuit inner = circuit.instances().get(instance).circuit();
      Map<String, String> unread = plan.unreadOutputs(instance);
      inner.ports().stream()
          .filter(port -> unread.containsKey(port.name()))
          .forEach(
              port ->
                  all.add(
                      new Declaration(
                          "wire", Expressions.range(port.width()), unread.get(port.name()), "")));
    }
    int range = all.stream().mapToInt(declaration -> declaration.range().length()).max().orElse(0);
    for (Declaration one : all) {
      String bits = range == 0 ? "" : HeadText.pad(one.range(), range) + " ";
      sink.line(one.kind() + " " + bits + one.name() + one.depth() + ";");
    }
    for (Memory memory : plan.memories()) {
      if (memory.kind() == Memory.Kind.REGISTERS) {
        for (String column : statements.expressions().columns(memory)) {
          sink.line("reg " + Expressions.range(memory.depth()) + " " + column + ";");
        }
        continue;
      }
      attribute(memory).ifPresent(text -> sink.line("(* " + text + " *)"));
      sink.line(
          "reg "
              + spaced(Expressions.range(memory.width()))
              + plan.memoryName(memory)
              + " [0:"
              + (memory.depth() - 1)
              + "];");
    }
    sink.blank();
  }

  private Optional<String> attribute(Memory memory) {
    return switch (memory.kind()) {
      case BLOCK -> options.blockRam();
      case DISTRIBUTED -> options.distributedRam();
      case REGISTERS -> Optional.empty();
    };
  }

  @Override
  public void section(String heading) {
    pending = Optional.of(heading);
  }

  /** Starts a statement: its section first; what takes several lines stands apart from others. */
  private void start(boolean isLong) {
    if (pending.isPresent()) {
      statements.section(pending.get());
      pending = Optional.empty();
    } else if (isLong || afterLong) {
      sink.blank();
    }
    afterLong = isLong;
  }

  @Override
  public void expression(int place) {
    start(false);
    statements.writeComment(place);
    statements.assign(place);
  }

  @Override
  public void constant(int place, Node.Constant constant) {
    // declared with its value
  }

  @Override
  public void select(int place, Node.Select select) {
    start(isCase(select));
    statements.writeComment(place);
    if (isCase(select)) {
      statements.writeCase(place, select);
    } else {
      statements.assign(place);
    }
  }

  @Override
  public void lookup(int place, Node.Lookup lookup) {
    start(lookups.isLong(lookup));
    statements.writeComment(place);
    lookups.write(place, lookup);
  }

  @Override
  public void directRead(int place, Node.DirectRead read) {
    expression(place);
  }

  @Override
  public void instance(int place, int instance) {
    start(true);
    new InstanceText(plan, statements, sink).write(instance);
  }

  @Override
  public void sectionEnd(List<Integer> places) {
    // state stands after all logic
  }

  private void writeOutputs() {
    if (!plan.portAssignments().isEmpty()) {
      statements.section("Outputs");
      plan.portAssignments()
          .forEach(
              (port, driver) ->
                  statements.write(
                      "assign " + port + " =",
                      List.of(" " + statements.expressions().value(driver))));
    }
  }

  private void writeUnread() {
    List<String> items = new ArrayList<>(List.of("1'b0"));
    for (EmissionPlan.UnreadBits bits : plan.unread()) {
      items.add(Expressions.bits(bits.name(), bits.of(), bits.low(), bits.width()));
    }
    if (items.size() > 1) {
      statements.section("Not used by this block; always 0, so that linters know it is meant");
      String name = plan.newName("unused_bits");
      statements.write("wire " + name + " =", Expressions.listed(" &{", items, "}"));
    }
  }
}

package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.BlockText;
import dev.lengthwise.circuit.text.Connection;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.StatementWalk;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;

/** Writes the concurrent statements of a block, section by section, in the order of the plan. */
final class Statements implements BlockText {

  private final EmissionPlan plan;
  private final Expressions expressions;
  private final Choices choices;
  private final Tables tables;
  private final Processes processes;
  private final Luts luts;
  private final TextSink sink;

  Statements(EmissionPlan plan, Expressions expressions, Tables tables, Luts luts, TextSink sink) {
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
    StatementWalk.write(plan, this);
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

  @Override
  public void section(String heading) {
    sink.blank().line("-".repeat(78)).comment("--", heading).blank();
  }

  private void comment(int place) {
    plan.circuit().commentOn(place).ifPresent(text -> sink.blank().comment("--", text));
  }

  private String target(int place) {
    comment(place);
    return plan.name(place).orElseThrow();
  }

  @Override
  public void expression(int place) {
    Lines.add(sink, target(place) + " <= " + expressions.compute(plan.node(place)).text() + ";");
  }

  @Override
  public void constant(int place, Node.Constant constant) {
    expression(place);
  }

  @Override
  public void select(int place, Node.Select select) {
    choices.assign(target(place), select, sink);
    sink.blank();
  }

  @Override
  public void lookup(int place, Node.Lookup lookup) {
    lookup(target(place), place, lookup);
  }

  @Override
  public void directRead(int place, Node.DirectRead read) {
    guarded(
        target(place),
        read.address(),
        read.width(),
        plan.memoryName(read.memory()) + "(" + expressions.index(read.address()) + ")");
  }

  @Override
  public void sectionEnd(List<Integer> places) {
    processes.write(places);
  }

  private void lookup(String target, int place, Node.Lookup node) {
    if (node.lut()) {
      luts.write(place, node, sink);
    } else if (node.address().width() == 1) {
      choices.assign(target, node, sink);
      sink.blank();
    } else {
      String at =
          tables.isFunction(node.contents())
              ? expressions.address(node.address()).text()
              : expressions.index(node.address());
      String table = tables.name(place, node.contents());
      guarded(target, node.address(), node.width(), table + "(" + at + ")");
    }
  }

  /** Adds a read that an unknown address bit makes unknown. */
  private void guarded(String target, Signal address, int width, String read) {
    String guard = Literals.unknown(width) + " when " + expressions.isUnknown(address) + " else ";
    Lines.add(sink, target + " <= " + guard + read + ";");
  }

  @Override
  public void instance(int place, int instance) {
    plan.instanceOutputs(instance).forEach(this::comment);
    sink.blank()
        .line(
            plan.instanceName(instance)
                + " : entity work."
                + plan.circuit().instances().get(instance).circuit().name());
    sink.line("  port map (");
    List<Connection> connections = Connection.of(plan, instance);
    int longest = connections.stream().mapToInt(c -> c.port().name().length()).max().orElse(0);
    for (int i = 0; i < connections.size(); i++) {
      Connection one = connections.get(i);
      String actual =
          one.input().map(input -> expressions.of(input).text()).or(one::name).orElse("open");
      Lines.add(
          sink,
          2,
          Block.padded(one.port().name(), longest)
              + " => "
              + actual
              + (i < connections.size() - 1 ? "," : ""));
    }
    sink.line("  );").blank();
  }
}

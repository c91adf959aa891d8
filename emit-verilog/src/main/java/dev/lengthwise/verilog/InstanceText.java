package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.text.Connection;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;
import java.util.Map;

/** Writes instances of other blocks. */
final class InstanceText {

  private final EmissionPlan plan;
  private final Statements statements;
  private final TextSink sink;

  InstanceText(EmissionPlan plan, Statements statements, TextSink sink) {
    this.plan = plan;
    this.statements = statements;
    this.sink = sink;
  }

  void write(int instance) {
    Circuit inner = plan.circuit().instances().get(instance).circuit();
    plan.instanceOutputs(instance).forEach(statements::writeComment);
    Map<String, String> unread = plan.unreadOutputs(instance);
    List<Connection> connections = Connection.of(plan, instance);
    int longest = connections.stream().mapToInt(c -> c.port().name().length()).max().orElse(0);
    sink.open(inner.name() + " " + plan.instanceName(instance) + " (");
    for (int i = 0; i < connections.size(); i++) {
      String port = connections.get(i).port().name();
      String actual =
          connections
              .get(i)
              .input()
              .map(statements.expressions()::value)
              .or(connections.get(i)::name)
              .orElseGet(() -> unread.get(port));
      sink.line(
          "."
              + port
              + " ".repeat(longest - port.length())
              + " ("
              + actual
              + ")"
              + (i == connections.size() - 1 ? "" : ","));
    }
    sink.close(");");
  }
}

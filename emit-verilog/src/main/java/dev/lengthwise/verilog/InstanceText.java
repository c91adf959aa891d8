package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.HashMap;
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
    Circuit.Instance inner = plan.circuit().instances().get(instance);
    Map<String, String> outputs = new HashMap<>(plan.unreadOutputs(instance));
    for (int place : plan.statements()) {
      if (plan.node(place) instanceof Node.InstanceOutput output && output.instance() == instance) {
        outputs.put(output.port(), plan.name(place).orElseThrow());
        statements.writeComment(place);
      }
    }
    List<Port> ports = HeadText.ports(inner.circuit());
    int longest = ports.stream().mapToInt(port -> port.name().length()).max().orElse(0);
    int input = 0;
    sink.open(inner.circuit().name() + " " + plan.instanceName(instance) + " (");
    for (int i = 0; i < ports.size(); i++) {
      Port port = ports.get(i);
      String actual;
      if (!inner.circuit().ports().contains(port)) {
        actual = port.name();
      } else if (port.direction() == Port.Direction.INPUT) {
        actual = statements.expressions().value(inner.inputs().get(input++));
      } else {
        actual = outputs.get(port.name());
      }
      sink.line(
          "."
              + port.name()
              + " ".repeat(longest - port.name().length())
              + " ("
              + actual
              + ")"
              + (i == ports.size() - 1 ? "" : ","));
    }
    sink.close(");");
  }
}

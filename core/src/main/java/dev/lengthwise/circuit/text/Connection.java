package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What a port of an instance is connected to: the signal at an input, or the name of the clock, the
 * reset or the signal that an output drives; an output that nothing reads has neither.
 *
 * @param port the port
 * @param input the signal at an input that the block declares
 * @param name the name at any other port that is used
 */
public record Connection(Port port, Optional<Signal> input, Optional<String> name) {

  /**
   * Returns the connections of an instance.
   *
   * @param plan the block around it
   * @param instance one of {@link EmissionPlan#instances}
   * @return one for each port, clock and reset first
   */
  public static List<Connection> of(EmissionPlan plan, int instance) {
    Circuit.Instance inner = plan.circuit().instances().get(instance);
    Map<String, String> outputs = new HashMap<>();
    for (int place : plan.instanceOutputs(instance)) {
      Node.InstanceOutput output = (Node.InstanceOutput) plan.node(place);
      outputs.put(output.port(), plan.name(place).orElseThrow());
    }
    List<Connection> connections = new ArrayList<>();
    Iterator<Signal> inputs = inner.inputs().iterator();
    List<Port> declared = inner.circuit().ports();
    for (Port port : FileHead.ports(inner.circuit())) {
      boolean input = port.direction() == Port.Direction.INPUT;
      if (input && declared.contains(port)) {
        connections.add(new Connection(port, Optional.of(inputs.next()), Optional.empty()));
      } else {
        String name = input ? port.name() : outputs.get(port.name());
        connections.add(new Connection(port, Optional.empty(), Optional.ofNullable(name)));
      }
    }
    return connections;
  }
}

package dev.lengthwise.circuit;

import dev.lengthwise.name.NameAllocator;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The ports of a block under their names: a user's keep theirs, and ours give way to them and to
 * the name of the block.
 */
final class PortNames {

  final List<Port> ports = new ArrayList<>();
  final List<Node> nodes = new ArrayList<>();
  final Map<String, Signal> drivers = new LinkedHashMap<>();

  PortNames(CircuitBuilder builder) {
    NameAllocator allocator = new NameAllocator();
    CircuitBuilder.CLOCK_AND_RESET.forEach(allocator::reserve);
    allocator.reserve(builder.name);
    builder.ports.stream().filter(Port::isOfUser).forEach(port -> allocator.reserve(port.name()));
    Map<String, String> names = new LinkedHashMap<>();
    for (Port port : builder.ports) {
      if (port.isOfUser() || !allocator.isTaken(port.name())) {
        names.put(port.key(), allocator.reserve(port.name()));
      }
    }
    for (Port port : builder.ports) {
      String name = names.computeIfAbsent(port.key(), allocator::allocate);
      ports.add(new Port(name, port.direction(), port.width(), port.doc(), port.key()));
    }
    for (Node node : builder.nodes) {
      nodes.add(
          node instanceof Node.Input input
              ? new Node.Input(names.get(input.port()), input.width())
              : node);
    }
    builder.drivers.forEach((key, driver) -> drivers.put(names.get(key), driver));
  }
}

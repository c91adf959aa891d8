package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.name.NameAllocator;
import dev.lengthwise.realize.cells.LanePorts;
import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Where a lane gets what its tables say of the bytes that it sees: from blocks inside it, or from
 * blocks that stand at each byte of a window and serve every lane that sees the byte.
 */
public interface Lookups {

  /**
   * Returns what a block says.
   *
   * @param block a block with input {@code key}, or {@code specifier_byte} and {@code index_byte},
   *     and modes
   * @param name what the lookup is called; the same for the same block
   * @param position its first byte, counted from the first that the lane sees
   * @return by output port
   */
  Map<String, Signal> look(Circuit block, String name, int position);

  /** Connects the inputs of such a block. */
  static Map<String, Signal> inputs(Circuit block, LanePorts ports, int position) {
    Map<String, Signal> inputs = new LinkedHashMap<>();
    for (Port port : block.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        inputs.put(
            port.key(),
            switch (port.key()) {
              case "key" -> port.width() == 8 ? ports.byteAt(position) : ports.unitAt(position);
              case "specifier_byte" -> ports.byteAt(position);
              case "index_byte" -> ports.byteAt(position + 1);
              default -> ports.modes().get(port.name());
            });
      }
    }
    return inputs;
  }

  /** Returns lookups by blocks inside the lane. */
  static Lookups inside(CircuitBuilder circuit, LanePorts ports) {
    NameAllocator instances = new NameAllocator();
    return (block, name, position) -> {
      boolean isSpecifier = block.ports().get(0).key().equals("specifier_byte");
      return circuit.instance(
          instances.allocate(isSpecifier ? name + "_at_" + position : name),
          block,
          inputs(block, ports, position));
    };
  }
}

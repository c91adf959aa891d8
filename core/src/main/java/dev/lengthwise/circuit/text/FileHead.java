package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import java.util.ArrayList;
import java.util.List;

/** What the head of a block's file says. */
public final class FileHead {

  private FileHead() {}

  /**
   * Returns all ports of a block: clock and reset if it has them, then the declared ones.
   *
   * @param circuit the block
   * @return the ports
   */
  public static List<Port> ports(Circuit circuit) {
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
}

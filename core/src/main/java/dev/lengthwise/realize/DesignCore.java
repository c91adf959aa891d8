package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.logic.LaneMapping;
import dev.lengthwise.predecode.LaneTable;
import java.util.Optional;

/**
 * The part of a design that decodes behind a fixed number of prefixes.
 *
 * @param table what it says
 * @param circuit the hardware
 * @param mapping the LUT network that it was made from, if it was
 */
record DesignCore(LaneTable table, Circuit circuit, Optional<LaneMapping> mapping) {

  static DesignCore of(LaneTable table, Circuit circuit) {
    return new DesignCore(table, circuit, Optional.empty());
  }

  static DesignCore of(LaneTable table, Circuit circuit, LaneMapping mapping) {
    return new DesignCore(table, circuit, Optional.of(mapping));
  }
}

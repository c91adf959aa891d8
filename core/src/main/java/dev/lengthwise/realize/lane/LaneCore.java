package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.predecode.row.LaneTable;
import java.util.Optional;

/**
 * The part of a design that decodes behind a fixed number of prefixes.
 *
 * @param table what it says
 * @param circuit the hardware
 * @param mapping the LUT network that it was made from, if it was
 */
public record LaneCore(LaneTable table, Circuit circuit, Optional<LaneMapping> mapping) {

  public static LaneCore of(LaneTable table, Circuit circuit) {
    return new LaneCore(table, circuit, Optional.empty());
  }

  public static LaneCore of(LaneTable table, Circuit circuit, LaneMapping mapping) {
    return new LaneCore(table, circuit, Optional.of(mapping));
  }
}

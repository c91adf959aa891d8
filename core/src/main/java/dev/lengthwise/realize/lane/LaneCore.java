package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.predecode.row.LaneTable;
import java.util.Optional;

/**
 * The part of a design that decodes behind a fixed number of prefixes.
 *
 * @param table what it says
 * @param circuit the hardware
 * @param mapping the LUT network that it was made from, if it was
 * @param delays what signals take, inputs in the order of the lane's
 */
public record LaneCore(
    LaneTable table, Circuit circuit, Optional<LaneMapping> mapping, DelayModel delays) {

  public static LaneCore of(LaneTable table, Circuit circuit) {
    return new LaneCore(table, circuit, Optional.empty(), DelayModel.LEVELS);
  }

  public static LaneCore of(
      LaneTable table, Circuit circuit, LaneMapping mapping, DelayModel delays) {
    return new LaneCore(table, circuit, Optional.of(mapping), delays);
  }

  /** Returns the delay of the network that it was made from, in whole levels. */
  public int levels() {
    return mapping.map(made -> delays.levels(made.network())).orElse(0);
  }
}

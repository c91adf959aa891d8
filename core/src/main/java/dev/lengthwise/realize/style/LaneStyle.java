package dev.lengthwise.realize.style;

import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.lane.LaneCore;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.row.SharedLane;
import java.util.Optional;

/** How lanes of a style are made, alone and side by side: one class for each style. */
public interface LaneStyle {

  /**
   * Makes a lane.
   *
   * @param table what it handles, behind some folded prefixes
   * @param prefixes their number
   * @param name what the block is called
   * @return the lane
   */
  LaneCore core(LaneTable table, int prefixes, String name);

  /**
   * Makes the lanes of a row, of which each computes once what it answers for several modes.
   *
   * @param array the row
   * @param late the modes that are known after the lanes
   * @param mapping the network of a lane alone, if it is one
   * @return what stands at each byte
   */
  SharedLane shared(LaneArray array, LateModes late, Optional<LaneMapping> mapping);
}

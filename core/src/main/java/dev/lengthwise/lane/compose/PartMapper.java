package dev.lengthwise.lane.compose;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LaneMapping;
import java.util.Optional;

/** Maps the parts that a lane is composed of, lanes themselves. */
@FunctionalInterface
public interface PartMapper {

  /**
   * Maps a part.
   *
   * @param part its function
   * @param inputs for each of its inputs the whole lane's, or the first of those that it may be
   * @return the mapping, proved; empty if it is not found with the effort allowed
   */
  Optional<LaneMapping> map(LaneFunction part, int... inputs);
}

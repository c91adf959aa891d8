package dev.lengthwise.realize.style;

import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.lane.LaneCore;
import dev.lengthwise.realize.lane.MapCore;
import dev.lengthwise.realize.lane.WordLogic;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.row.SharedLane;
import dev.lengthwise.realize.row.SharedMapLane;
import java.util.Optional;

/**
 * Lanes that look up a word for each opcode map and add.
 *
 * @param words what looks words up
 */
public record WordStyle(WordLogic words) implements LaneStyle {

  @Override
  public LaneCore core(LaneTable table, int prefixes, String name) {
    return LaneCore.of(table, new MapCore(table.lane(), prefixes, name, words).build());
  }

  @Override
  public SharedLane shared(LaneArray array, LateModes late, Optional<LaneMapping> mapping) {
    return SharedMapLane.of(array, late, words);
  }
}

package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.List;

/**
 * Leaves out of a lane the maps that need not be read, because all their codes that matter have one
 * outcome, and that outcome can stand where the escape to them stood.
 */
final class Shortcuts {

  private final List<LaneShape.CodeMap> maps;
  private final LaneShape.CodeMap[] shortened;

  Shortcuts(List<LaneShape.CodeMap> maps) {
    this.maps = maps;
    this.shortened = new LaneShape.CodeMap[maps.size()];
    // Escapes lead to later maps, so these are shortened first.
    for (int map = maps.size() - 1; map >= 0; map--) {
      shortened[map] = shorten(maps.get(map));
    }
  }

  private LaneShape.CodeMap shorten(LaneShape.CodeMap map) {
    List<LaneShape.Outcome> outcomes = new ArrayList<>();
    for (LaneShape.Outcome outcome : map.outcomes()) {
      outcomes.add(outcome instanceof LaneShape.Escape escape ? behind(map, escape) : outcome);
    }
    return new LaneShape.CodeMap(map.name(), map.offset(), map.specifierOffset(), outcomes);
  }

  private LaneShape.Outcome behind(LaneShape.CodeMap map, LaneShape.Escape escape) {
    LaneShape.CodeMap target = shortened[escape.map()];
    List<LaneShape.Outcome> distinct =
        target.outcomes().stream()
            .filter(outcome -> !(outcome instanceof LaneShape.Anything))
            .distinct()
            .toList();
    if (distinct.isEmpty()) {
      return new LaneShape.Anything();
    }
    boolean fits =
        distinct.size() == 1
            && distinct.get(0) instanceof LaneShape.Bytes row
            && (row.specifier() < 0 || target.specifierOffset() == map.specifierOffset());
    return fits ? distinct.get(0) : escape;
  }

  /** Returns the maps that can still be reached, numbered anew. */
  List<LaneShape.CodeMap> maps() {
    int[] number = new int[maps.size()];
    boolean[] reached = new boolean[maps.size()];
    reached[0] = true;
    int count = 0;
    for (int map = 0; map < shortened.length; map++) {
      if (reached[map]) {
        number[map] = count++;
        for (LaneShape.Outcome outcome : shortened[map].outcomes()) {
          if (outcome instanceof LaneShape.Escape escape) {
            reached[escape.map()] = true;
          }
        }
      }
    }
    List<LaneShape.CodeMap> result = new ArrayList<>();
    for (int map = 0; map < shortened.length; map++) {
      if (reached[map]) {
        LaneShape.CodeMap own = shortened[map];
        List<LaneShape.Outcome> outcomes = new ArrayList<>();
        for (LaneShape.Outcome outcome : own.outcomes()) {
          outcomes.add(
              outcome instanceof LaneShape.Escape escape
                  ? new LaneShape.Escape(number[escape.map()])
                  : outcome);
        }
        result.add(
            new LaneShape.CodeMap(own.name(), own.offset(), own.specifierOffset(), outcomes));
      }
    }
    return List.copyOf(result);
  }
}

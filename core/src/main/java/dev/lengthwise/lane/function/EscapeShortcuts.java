package dev.lengthwise.lane.function;

import java.util.ArrayList;
import java.util.List;

/**
 * Leaves out of a lane the maps that need not be read, because all their codes that matter have one
 * outcome, and that outcome can stand where the escape to them stood.
 */
final class EscapeShortcuts {

  private final List<LaneFunction.CodeMap> maps;
  private final LaneFunction.CodeMap[] shortened;

  EscapeShortcuts(List<LaneFunction.CodeMap> maps) {
    this.maps = maps;
    this.shortened = new LaneFunction.CodeMap[maps.size()];
    // Escapes lead to later maps, so these are shortened first.
    for (int map = maps.size() - 1; map >= 0; map--) {
      shortened[map] = shorten(maps.get(map));
    }
  }

  private LaneFunction.CodeMap shorten(LaneFunction.CodeMap map) {
    List<LaneFunction.Outcome> outcomes = new ArrayList<>();
    for (LaneFunction.Outcome outcome : map.outcomes()) {
      outcomes.add(outcome instanceof LaneFunction.Escape escape ? behind(map, escape) : outcome);
    }
    return new LaneFunction.CodeMap(map.name(), map.offset(), map.specifierOffset(), outcomes);
  }

  private LaneFunction.Outcome behind(LaneFunction.CodeMap map, LaneFunction.Escape escape) {
    LaneFunction.CodeMap target = shortened[escape.map()];
    List<LaneFunction.Outcome> distinct =
        target.outcomes().stream()
            .filter(outcome -> !(outcome instanceof LaneFunction.Anything))
            .distinct()
            .toList();
    if (distinct.isEmpty()) {
      return new LaneFunction.Anything();
    }
    boolean fits =
        distinct.size() == 1
            && distinct.get(0) instanceof LaneFunction.Bytes row
            && (row.specifier() < 0 || target.specifierOffset() == map.specifierOffset());
    return fits ? distinct.get(0) : escape;
  }

  /** Returns the maps that can still be reached, numbered anew. */
  List<LaneFunction.CodeMap> maps() {
    int[] number = new int[maps.size()];
    boolean[] reached = new boolean[maps.size()];
    reached[0] = true;
    int count = 0;
    for (int map = 0; map < shortened.length; map++) {
      if (reached[map]) {
        number[map] = count++;
        for (LaneFunction.Outcome outcome : shortened[map].outcomes()) {
          if (outcome instanceof LaneFunction.Escape escape) {
            reached[escape.map()] = true;
          }
        }
      }
    }
    List<LaneFunction.CodeMap> result = new ArrayList<>();
    for (int map = 0; map < shortened.length; map++) {
      if (reached[map]) {
        LaneFunction.CodeMap own = shortened[map];
        List<LaneFunction.Outcome> outcomes = new ArrayList<>();
        for (LaneFunction.Outcome outcome : own.outcomes()) {
          outcomes.add(
              outcome instanceof LaneFunction.Escape escape
                  ? new LaneFunction.Escape(number[escape.map()])
                  : outcome);
        }
        result.add(
            new LaneFunction.CodeMap(own.name(), own.offset(), own.specifierOffset(), outcomes));
      }
    }
    return List.copyOf(result);
  }
}

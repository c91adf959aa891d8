package dev.lengthwise.lane.function;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;

/**
 * Which rows of a lane it handles, apart from what their lengths are.
 *
 * <p>A map's <em>answer</em> at a code and the byte behind it takes in the maps that only tell rows
 * of that code apart by that byte: {@link #NO}, {@link #YES}, {@link #OPEN}, or a map to go on in.
 */
public final class HandledRows {

  /** The lane does not handle the row, in any mode. */
  public static final int NO = 0;

  /** The lane states a length in some mode. */
  public static final int YES = 1;

  /** The lane may say anything. */
  public static final int OPEN = -1;

  private static final int FIRST_MAP = 2;

  private final List<LaneFunction.CodeMap> maps;

  /**
   * Looks at a lane.
   *
   * @param shape the lane
   */
  public HandledRows(LaneFunction shape) {
    this.maps = shape.codedMaps();
  }

  /**
   * Returns a lane that may say anything of every row that this one does not handle.
   *
   * @param shape the lane
   * @return the same lengths elsewhere
   */
  public static LaneFunction opened(LaneFunction shape) {
    List<LaneFunction.CodeMap> maps = new ArrayList<>();
    for (LaneFunction.CodeMap map : shape.codedMaps()) {
      List<LaneFunction.Outcome> outcomes =
          map.outcomes().stream()
              .map(outcome -> isHandled(outcome) ? outcome : new LaneFunction.Anything())
              .toList();
      maps.add(new LaneFunction.CodeMap(map.name(), map.offset(), map.specifierOffset(), outcomes));
    }
    return shape.withMaps(maps);
  }

  private static boolean isHandled(LaneFunction.Outcome outcome) {
    return !(outcome instanceof LaneFunction.Bytes row)
        || row.byModes().stream().anyMatch(bytes -> bytes != 0);
  }

  /**
   * Returns the answers of a map.
   *
   * @param map its index among the coded maps
   * @return for each of 256 codes the answers for the 256 values of the byte behind it
   */
  public int[][] answers(int map) {
    LaneFunction.CodeMap own = maps.get(map);
    int[][] answers = new int[256][256];
    for (int code = 0; code < 256; code++) {
      for (int next = 0; next < 256; next++) {
        answers[code][next] = answer(own, code, next);
      }
    }
    return answers;
  }

  private int answer(LaneFunction.CodeMap map, int code, int next) {
    LaneFunction.Outcome outcome = map.outcomes().get(code);
    if (outcome instanceof LaneFunction.Escape escape) {
      LaneFunction.CodeMap target = maps.get(escape.map());
      if (tellsRowsApart(target) && target.offset() == map.offset() + 1) {
        return answer(target.outcomes().get(next));
      }
    }
    return answer(outcome);
  }

  private static int answer(LaneFunction.Outcome outcome) {
    if (outcome instanceof LaneFunction.Escape escape) {
      return FIRST_MAP + escape.map();
    }
    if (outcome instanceof LaneFunction.Anything) {
      return OPEN;
    }
    return isHandled(outcome) ? YES : NO;
  }

  /** Tells whether a map's byte only tells rows of one code apart. */
  private static boolean tellsRowsApart(LaneFunction.CodeMap map) {
    return map.specifierOffset() == map.offset();
  }

  /**
   * Returns the maps that answers lead to.
   *
   * @param answers what {@link #answers} returned
   * @return their indices among the coded maps, ascending
   */
  public static List<Integer> further(int[][] answers) {
    SortedSet<Integer> further = new TreeSet<>();
    for (int[] row : answers) {
      for (int answer : row) {
        if (answer >= FIRST_MAP) {
          further.add(answer - FIRST_MAP);
        }
      }
    }
    return Collections.unmodifiableList(new ArrayList<>(further));
  }

  /**
   * Returns the map that an answer leads to.
   *
   * @param answer one of a map's answers
   * @return its index among the coded maps; negative if the answer is none
   */
  public static int furtherMap(int answer) {
    return answer - FIRST_MAP;
  }
}

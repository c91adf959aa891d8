package dev.lengthwise.logic.support;

import java.util.List;
import java.util.stream.Collectors;

/**
 * What stands in the way of dropping one input.
 *
 * <p>Every point is in one pair at most, so the number of conflicts is also the least number of
 * points that must be given up (made don't-cares), one of each pair, to free the input.
 *
 * @param input the input
 * @param conflicts the pairs of points, in ascending order
 */
public record SupportInput(int input, List<SupportConflict> conflicts) {

  private static final int MOST_IN_TEXT = 8;

  /**
   * Copies the conflicts.
   *
   * @param input the input
   * @param conflicts the pairs of points, in ascending order
   */
  public SupportInput {
    conflicts = List.copyOf(conflicts);
  }

  /**
   * Tells whether the input can be dropped, all others being kept.
   *
   * @return true if nothing stands in the way
   */
  public boolean removable() {
    return conflicts.isEmpty();
  }

  /** Returns one line, points in hex, at most {@value #MOST_IN_TEXT} pairs. */
  @Override
  public String toString() {
    if (removable()) {
      return "input " + input + " is removable";
    }
    String pairs =
        conflicts.stream()
            .limit(MOST_IN_TEXT)
            .map(SupportConflict::toString)
            .collect(Collectors.joining(", "));
    int more = conflicts.size() - MOST_IN_TEXT;
    return "input "
        + input
        + " is removable but for "
        + pairs
        + (more > 0 ? ", and " + more + " more pairs" : "");
  }
}

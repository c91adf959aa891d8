package dev.lengthwise.realize.cost;

import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * A path of a fetch unit from registers or RAM to registers, as named steps.
 *
 * <p>Levels are the fewest of the unit's own gates as they stand: LUTs, and LUT RAM read in the
 * same cycle. A step's level is that of its slowest bit from wherever the slowest input is. An
 * estimate: synthesis, placement and routing decide.
 *
 * @param name the path, in words
 * @param steps from where it starts, at level 0, to the register it ends at; at least two
 */
public record FetchPath(String name, List<PathStep> steps) {

  /**
   * Copies the list.
   *
   * @param name see FetchPath
   * @param steps see FetchPath
   */
  public FetchPath {
    Objects.requireNonNull(name, "name");
    steps = List.copyOf(steps);
  }

  /**
   * Returns the levels of the whole path.
   *
   * @return that of the last step
   */
  public int levels() {
    return steps.get(steps.size() - 1).level();
  }

  /**
   * Returns the level up to and including a step.
   *
   * @param step its name
   * @return the level
   * @throws IllegalArgumentException if the path has no such step
   */
  public int level(String step) {
    Objects.requireNonNull(step, "step");
    return steps.stream()
        .filter(s -> s.name().equals(step))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    String.format(
                        Locale.ROOT, "path %s: a step of it is expected, found %s", name, step)))
        .level();
  }
}

package dev.lengthwise.realize.cost;

import java.util.Objects;

/**
 * One step of a critical path.
 *
 * @param name what the signal passes
 * @param level the LUT levels up to and including this step; 0 for an input
 */
public record PathStep(String name, int level) {
  /**
   * Checks for null.
   *
   * @param name see PathStep
   * @param level see PathStep
   */
  public PathStep {
    Objects.requireNonNull(name, "name");
  }
}

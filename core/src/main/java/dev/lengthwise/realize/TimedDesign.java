package dev.lengthwise.realize;

import java.util.List;
import java.util.Objects;

/**
 * The best design that was found in a time.
 *
 * @param design the design
 * @param account what was tried, in words, in the order in which it was
 * @param interrupted whether the time was cut short
 */
public record TimedDesign(Design design, List<String> account, boolean interrupted) {

  /**
   * Checks the design and copies the list.
   *
   * @param design see TimedDesign
   * @param account see TimedDesign
   * @param interrupted see TimedDesign
   */
  public TimedDesign {
    Objects.requireNonNull(design, "design");
    account = List.copyOf(account);
  }
}

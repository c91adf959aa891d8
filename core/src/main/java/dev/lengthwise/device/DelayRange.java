package dev.lengthwise.device;

import java.util.Locale;

/**
 * A delay between a fast and a slow case.
 *
 * @param fastest in nanoseconds, at least 0
 * @param slowest in nanoseconds, at least {@code fastest}
 */
public record DelayRange(double fastest, double slowest) {

  /**
   * Checks the order.
   *
   * @param fastest see DelayRange
   * @param slowest see DelayRange
   */
  public DelayRange {
    if (!(fastest >= 0 && slowest >= fastest && slowest < 1e6)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "delay range: must be 0 <= fastest <= slowest < 1e6 ns, found %s and %s",
              fastest,
              slowest));
    }
  }

  /**
   * Returns this delay some times in a row.
   *
   * @param count how often, at least 0
   * @return the sum
   * @throws IllegalArgumentException if {@code count} is negative
   */
  public DelayRange times(int count) {
    if (count < 0) {
      throw new IllegalArgumentException("delay range: a count must be at least 0, found " + count);
    }
    return new DelayRange(fastest * count, slowest * count);
  }

  /**
   * Returns this delay and another in a row.
   *
   * @param other the other delay
   * @return the sum
   */
  public DelayRange plus(DelayRange other) {
    return new DelayRange(fastest + other.fastest, slowest + other.slowest);
  }
}

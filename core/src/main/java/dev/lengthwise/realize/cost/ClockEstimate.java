package dev.lengthwise.realize.cost;

import dev.lengthwise.device.DeviceProfile.DelayRange;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * The clock that a design is expected to reach. An estimate: synthesis, placement and routing
 * decide.
 *
 * @param period nanoseconds from one edge of the clock to the next
 * @param path the path that sets it, from a register or a RAM to a register
 */
public record ClockEstimate(DelayRange period, List<PathStep> path) {

  private static final double MHZ_OF_NS = 1000;

  /**
   * Copies the list.
   *
   * @param period see ClockEstimate
   * @param path see ClockEstimate
   * @throws IllegalArgumentException if the period may be 0, or there is no path
   */
  public ClockEstimate {
    Objects.requireNonNull(period, "period");
    path = List.copyOf(path);
    if (period.fastest() == 0) {
      throw new IllegalArgumentException(
          "clock estimate: the fastest period must be above 0 ns, found 0");
    }
    if (path.isEmpty()) {
      throw new IllegalArgumentException("clock estimate: a path is expected, found none");
    }
  }

  /**
   * Adds up the delays of a path.
   *
   * @param start that of what the path begins with, and of the set-up at its end
   * @param level that of each level
   * @param path the path
   * @return the estimate
   */
  public static ClockEstimate of(DelayRange start, DelayRange level, List<PathStep> path) {
    Objects.requireNonNull(start, "start");
    Objects.requireNonNull(level, "level");
    int levels = path.stream().mapToInt(PathStep::level).max().orElse(0);
    return new ClockEstimate(start.plus(level.times(levels)), path);
  }

  /**
   * Returns the clock if all delays are the slowest.
   *
   * @return in MHz
   */
  public double lowMhz() {
    return MHZ_OF_NS / period.slowest();
  }

  /**
   * Returns the clock if all delays are the fastest.
   *
   * @return in MHz
   */
  public double highMhz() {
    return MHZ_OF_NS / period.fastest();
  }

  /** Returns the range for people. */
  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%.1f to %.1f MHz", lowMhz(), highMhz());
  }
}

package dev.lengthwise.realize.cost;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.device.DeviceProfile.DelayRange;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * The clock that a design is expected to reach. An estimate: synthesis, placement and routing
 * decide.
 *
 * <p>The period is the delay of what the longest path starts from, and for each of its levels that
 * of a LUT, and that of wiring as often as the LUTs in a level double from one.
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
   * @param device has the delays
   * @param fromRam whether the path starts from block RAM, not from a register
   * @param luts the LUTs of the whole design
   * @param path the path
   * @return the estimate
   */
  public static ClockEstimate of(
      DeviceProfile device, boolean fromRam, int luts, List<PathStep> path) {
    int levels = levels(path);
    double wires = levels * doublings(luts, levels);
    DelayRange start = fromRam ? device.blockRamDelay() : device.registerDelay();
    DelayRange wire =
        new DelayRange(wires * device.wireDelay().fastest(), wires * device.wireDelay().slowest());
    return new ClockEstimate(start.plus(device.levelDelay().times(levels)).plus(wire), path);
  }

  /**
   * Returns how many levels a path has.
   *
   * @param path the path
   * @return those of its deepest step, or 0
   */
  public static int levels(List<PathStep> path) {
    return path.stream().mapToInt(PathStep::level).max().orElse(0);
  }

  /**
   * Returns how often the LUTs of a level double from one, spread evenly.
   *
   * @param luts the LUTs of the whole design
   * @param levels its levels
   * @return at least 0
   */
  public static double doublings(int luts, int levels) {
    return levels == 0 || luts <= levels ? 0 : Math.log(luts / (double) levels) / Math.log(2);
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

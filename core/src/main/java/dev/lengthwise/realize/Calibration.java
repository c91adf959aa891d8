package dev.lengthwise.realize;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.cost.ClockEstimate;
import dev.lengthwise.realize.cost.PathStep;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.function.DoubleUnaryOperator;

/**
 * Fits the delays of a device to clocks that the user measured in a flow of their own.
 *
 * <p>What is fitted is the model of {@link ClockEstimate}: the delays of a register, of a level, of
 * wiring and, if fetch units are among the designs, of block RAM. Far off figures count less. The
 * delays of the result are ranges, as wide as they must be to hold a share of the designs. Designs
 * of one kind say nothing of others: give lanes, rows and sizes as you mean to build. Immutable.
 */
public final class Calibration {

  /** Twice the delays that are fitted. */
  private static final int FEWEST_DESIGNS = 8;

  private static final int FEWEST_LEVELS = 3;
  private static final double USUAL_SHARE = 0.9;
  private static final double MOST_MHZ = 1e5;

  private static final double NS_OF_MHZ = 1000;

  /** A thousandth of a nanosecond is as fine as anybody reads. */
  private static final double FINEST = 1000;

  private final DeviceProfile device;
  private final double share;
  private final List<Clock> clocks;

  /**
   * A clock measured, beside what is estimated by the fitted delays.
   *
   * @param name of the design
   * @param measuredMhz what was measured, in MHz
   * @param lowMhz the least that is estimated
   * @param highMhz the most that is estimated
   */
  public record Residual(String name, double measuredMhz, double lowMhz, double highMhz) {

    /**
     * Checks for null.
     *
     * @param name see Residual
     * @param measuredMhz see Residual
     * @param lowMhz see Residual
     * @param highMhz see Residual
     */
    public Residual {
      Objects.requireNonNull(name, "name");
    }

    /**
     * Tells whether the range holds what was measured.
     *
     * @return true if so
     */
    public boolean isHeld() {
      return lowMhz <= measuredMhz && measuredMhz <= highMhz;
    }

    /**
     * Returns how far the middle of the range is off.
     *
     * @return a share of what was measured, at least 0
     */
    public double error() {
      return Math.abs(Math.sqrt(lowMhz * highMhz) - measuredMhz) / measuredMhz;
    }
  }

  /**
   * A fitted device.
   *
   * @param profile the device with the fitted delays
   * @param residuals one for each clock, in the order in which they were given
   */
  public record Result(DeviceProfile profile, List<Residual> residuals) {

    /**
     * Copies the list.
     *
     * @param profile see Result
     * @param residuals see Result
     * @throws IllegalArgumentException if there is none
     */
    public Result {
      Objects.requireNonNull(profile, "profile");
      residuals = List.copyOf(residuals);
      if (residuals.isEmpty()) {
        throw new IllegalArgumentException("calibration: residuals are expected, found none");
      }
    }

    /**
     * Returns how far the middles of the ranges are off, on average.
     *
     * @return a share of what was measured, at least 0
     */
    public double meanError() {
      return residuals.stream().mapToDouble(Residual::error).average().orElseThrow();
    }

    /**
     * Returns how many ranges hold what was measured.
     *
     * @return a share of all
     */
    public double heldShare() {
      return residuals.stream().filter(Residual::isHeld).count() / (double) residuals.size();
    }

    /** Returns a line for people. */
    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%s: %d clocks, mean error %.1f%%, %.1f%% in their range of %.2f to 1",
          profile.name(),
          residuals.size(),
          100 * meanError(),
          100 * heldShare(),
          residuals.get(0).highMhz() / residuals.get(0).lowMhz());
    }
  }

  /** A clock that was measured, and what the model says it comes from. */
  private record Clock(String name, boolean ram, int levels, int luts, double mhz) {

    double period() {
      return NS_OF_MHZ / mhz;
    }

    double[] counts() {
      return new double[] {
        ram ? 0 : 1, levels, levels * ClockEstimate.doublings(luts, levels), ram ? 1 : 0
      };
    }
  }

  private Calibration(DeviceProfile device, double share, List<Clock> clocks) {
    this.device = device;
    this.share = share;
    this.clocks = clocks;
  }

  /**
   * Starts without clocks; nine of ten designs are to be held.
   *
   * @param device what designs are mapped to; its delays do not matter
   * @return a calibration
   */
  public static Calibration on(DeviceProfile device) {
    return new Calibration(Objects.requireNonNull(device, "device"), USUAL_SHARE, List.of());
  }

  /**
   * Returns a calibration whose ranges hold another share of the designs.
   *
   * @param value in [0.5, 1]; the more, the wider
   * @return a new calibration
   * @throws IllegalArgumentException if the share is out of range
   */
  public Calibration withShare(double value) {
    if (!(value >= 0.5 && value <= 1)) {
      throw new IllegalArgumentException(
          "calibration: the share to hold must be in [0.5, 1], found " + value);
    }
    return new Calibration(device, value, clocks);
  }

  /**
   * Returns a calibration with one more clock.
   *
   * @param design what was measured, with registers before its inputs and behind its outputs
   * @param mhz its highest clock, in MHz, in (0, 1e5]; the median of several placements is best
   * @return a new calibration
   * @throws IllegalArgumentException if the clock is out of range, or the design is mapped to LUTs
   *     of another size
   */
  public Calibration with(Design design, double mhz) {
    return with(design.name(), design, mhz);
  }

  /**
   * Returns a calibration with the clocks of a file: comma-separated values, the first line names
   * the columns. Those needed are "design" and "mhz", the median of several placements in MHz;
   * others are not looked at. Of several rows of one design, as of several scripts, the fastest
   * counts.
   *
   * @param file the file
   * @param designs what was measured, by the names that the file has; all must be there
   * @return a new calibration
   * @throws IOException if the file cannot be read or is no such file, has a name of no design, or
   *     lacks one; the message names the line, what is expected and what was found
   * @throws IllegalArgumentException if a design is mapped to LUTs of another size
   */
  public Calibration withFile(Path file, Map<String, Design> designs) throws IOException {
    Calibration all = this;
    for (Map.Entry<String, Double> one : ClockFile.read(file, designs.keySet()).entrySet()) {
      all = all.with(one.getKey(), designs.get(one.getKey()), one.getValue());
    }
    return all;
  }

  private Calibration with(String name, Design design, double mhz) {
    if (!(mhz > 0 && mhz <= MOST_MHZ)) {
      throw new IllegalArgumentException(
          "calibration: a clock in (0, 1e5] MHz is expected, found " + mhz);
    }
    if (design.device().lutInputs() != device.lutInputs()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "calibration: LUTs of %d inputs are expected, found %d in %s",
              device.lutInputs(),
              design.device().lutInputs(),
              design.name()));
    }
    List<Clock> more = new ArrayList<>(clocks);
    more.add(
        new Clock(
            name,
            design.unit().isPresent(),
            ClockEstimate.levels(design.criticalPath()),
            design.total().luts(),
            mhz));
    return new Calibration(device, share, List.copyOf(more));
  }

  /**
   * Fits the delays.
   *
   * @return the device with them, and how well they fit; where no fetch unit was given, the delay
   *     of block RAM is the device's own
   * @throws IllegalStateException if there are fewer than 8 clocks, or fewer than 3 numbers of
   *     levels among the designs
   */
  public Result fit() {
    if (clocks.size() < FEWEST_DESIGNS) {
      throw new IllegalStateException(
          "calibration: at least 8 clocks are expected, found " + clocks.size());
    }
    long levels = clocks.stream().mapToInt(Clock::levels).distinct().count();
    if (levels < FEWEST_LEVELS) {
      throw new IllegalStateException(
          "calibration: designs of at least 3 numbers of levels are expected, found " + levels);
    }
    double[][] counts = clocks.stream().map(Clock::counts).toArray(double[][]::new);
    double[] periods = clocks.stream().mapToDouble(Clock::period).toArray();
    double[] delays = DelayFit.of(counts, periods);
    double[] off = new double[periods.length];
    for (int i = 0; i < off.length; i++) {
      off[i] = Math.abs(Math.log(periods[i] / DelayFit.dot(counts[i], delays)));
    }
    Arrays.sort(off);
    double factor = Math.exp(off[(int) Math.ceil(share * off.length) - 1]);
    DeviceProfile fitted = profile(delays, factor);
    return new Result(fitted, clocks.stream().map(clock -> residual(clock, fitted)).toList());
  }

  private DeviceProfile profile(double[] delays, double factor) {
    // Rounded outwards, so that the range holds what it held.
    double[] low = scaled(delays, delay -> Math.floor(FINEST * delay / factor));
    double[] high = scaled(delays, delay -> Math.ceil(FINEST * delay * factor));
    DeviceProfile.Builder builder =
        device.toBuilder()
            .registerDelay(low[0], high[0])
            .levelDelay(low[1], high[1])
            .wireDelay(low[2], high[2]);
    if (clocks.stream().anyMatch(Clock::ram)) {
      builder.blockRamDelay(low[3], high[3]);
    }
    return builder.build();
  }

  private static double[] scaled(double[] delays, DoubleUnaryOperator picoseconds) {
    return Arrays.stream(delays).map(picoseconds).map(delay -> delay / FINEST).toArray();
  }

  private static Residual residual(Clock clock, DeviceProfile fitted) {
    ClockEstimate estimate =
        ClockEstimate.of(fitted, clock.ram, clock.luts, List.of(new PathStep("LUT", clock.levels)));
    return new Residual(clock.name, clock.mhz, estimate.lowMhz(), estimate.highMhz());
  }
}

package dev.lengthwise.testbench.flow;

import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * What the open flow made of a design by one of its scripts. The registers and LUTs of the block
 * around the design are not counted.
 *
 * @param design the design's name
 * @param script how it was synthesized
 * @param luts LUTs of four inputs
 * @param registers flip-flops
 * @param blockRams block RAM primitives
 * @param trials one for each seed, at least one
 */
public record TimingResult(
    String design,
    OpenFlow.Script script,
    int luts,
    int registers,
    int blockRams,
    List<Trial> trials) {

  /**
   * One placement and routing.
   *
   * @param seed where the placement began
   * @param mhz the highest clock from register to register, in MHz
   * @param limitedAround true if a path of the block around the design is the longest, so that the
   *     design itself might be faster
   */
  public record Trial(int seed, double mhz, boolean limitedAround) {}

  /**
   * Copies the list.
   *
   * @param design see TimingResult
   * @param script see TimingResult
   * @param luts see TimingResult
   * @param registers see TimingResult
   * @param blockRams see TimingResult
   * @param trials see TimingResult
   * @throws IllegalArgumentException if there is no trial
   */
  public TimingResult {
    Objects.requireNonNull(design, "design");
    Objects.requireNonNull(script, "script");
    trials = List.copyOf(trials);
    if (trials.isEmpty()) {
      throw new IllegalArgumentException("timing result: a trial is expected, found none");
    }
  }

  private double[] sorted() {
    return trials.stream().mapToDouble(Trial::mhz).sorted().toArray();
  }

  /**
   * Returns the clock of the slowest trial.
   *
   * @return in MHz
   */
  public double least() {
    return sorted()[0];
  }

  /**
   * Returns the clock that half of the trials reach.
   *
   * @return in MHz; of an even number of trials, between the two in the middle
   */
  public double median() {
    double[] clocks = sorted();
    return (clocks[(clocks.length - 1) / 2] + clocks[clocks.length / 2]) / 2;
  }

  /**
   * Returns the clock of the fastest trial.
   *
   * @return in MHz
   */
  public double most() {
    double[] clocks = sorted();
    return clocks[clocks.length - 1];
  }

  /** Returns a line for people. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%s, %s: %d LUTs, %d registers, %.1f MHz (%.1f to %.1f)",
        design,
        script.label(),
        luts,
        registers,
        median(),
        least(),
        most());
  }
}

package dev.lengthwise.logic.map;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.SearchProgress;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.Objects;

/**
 * What a mapper maps for and how much it searches.
 *
 * @param lutInputs the inputs of a LUT, in [3, {@value LutNetwork#MOST_FAN_INS}]
 * @param objective what counts first
 * @param effort how much work to spend
 * @param seed what the draws start from
 * @param progress is told now and then
 */
public record MapperSettings(
    int lutInputs, Objective objective, Effort effort, long seed, SearchProgress progress) {

  /**
   * Checks the values.
   *
   * @param lutInputs see the record
   * @param objective see the record
   * @param effort see the record
   * @param seed see the record
   * @param progress see the record
   * @throws IllegalArgumentException if {@code lutInputs} is out of range
   */
  public MapperSettings {
    Objects.requireNonNull(objective, "objective");
    Objects.requireNonNull(effort, "effort");
    Objects.requireNonNull(progress, "progress");
    if (lutInputs < 3 || lutInputs > LutNetwork.MOST_FAN_INS) {
      throw new IllegalArgumentException(
          "mapper: the inputs of a LUT must be in [3, "
              + LutNetwork.MOST_FAN_INS
              + "], found "
              + lutInputs);
    }
  }

  /**
   * Returns settings of least LUTs first, effort {@link Effort#QUICK}, seed 1 and no listener.
   *
   * @param lutInputs see the record
   * @return the settings
   */
  public static MapperSettings of(int lutInputs) {
    return new MapperSettings(lutInputs, Objective.AREA, Effort.QUICK, 1, SearchProgress.NONE);
  }

  /**
   * Returns settings with another objective.
   *
   * @param value the objective
   * @return new settings
   */
  public MapperSettings with(Objective value) {
    return new MapperSettings(lutInputs, value, effort, seed, progress);
  }

  /**
   * Returns settings with another effort.
   *
   * @param value the effort
   * @return new settings
   */
  public MapperSettings with(Effort value) {
    return new MapperSettings(lutInputs, objective, value, seed, progress);
  }

  /**
   * Returns settings with another seed.
   *
   * @param value the seed
   * @return new settings
   */
  public MapperSettings withSeed(long value) {
    return new MapperSettings(lutInputs, objective, effort, value, progress);
  }

  /**
   * Returns settings with another listener.
   *
   * @param value the listener
   * @return new settings
   */
  public MapperSettings with(SearchProgress value) {
    return new MapperSettings(lutInputs, objective, effort, seed, value);
  }
}

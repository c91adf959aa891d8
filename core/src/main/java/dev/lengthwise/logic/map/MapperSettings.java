package dev.lengthwise.logic.map;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.SearchProgress;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.NetworkOrder;
import java.util.Comparator;
import java.util.Objects;

/**
 * What a mapper maps for and how much it searches.
 *
 * @param lutInputs the inputs of a LUT, in [3, {@value LutNetwork#MOST_FAN_INS}]
 * @param objective what counts first
 * @param effort how much work to spend
 * @param seed what the draws start from
 * @param progress is told now and then
 * @param delays what depth is counted by: what signals take, when inputs are there
 */
public record MapperSettings(
    int lutInputs,
    Objective objective,
    Effort effort,
    long seed,
    SearchProgress progress,
    DelayModel delays) {

  /**
   * Checks the values.
   *
   * @param lutInputs see the record
   * @param objective see the record
   * @param effort see the record
   * @param seed see the record
   * @param progress see the record
   * @param delays see the record
   * @throws IllegalArgumentException if {@code lutInputs} is out of range
   */
  public MapperSettings {
    Objects.requireNonNull(objective, "objective");
    Objects.requireNonNull(effort, "effort");
    Objects.requireNonNull(progress, "progress");
    Objects.requireNonNull(delays, "delays");
    if (lutInputs < 3 || lutInputs > LutNetwork.MOST_FAN_INS) {
      throw new IllegalArgumentException(
          "mapper: the inputs of a LUT must be in [3, "
              + LutNetwork.MOST_FAN_INS
              + "], found "
              + lutInputs);
    }
  }

  /**
   * Returns settings of least LUTs first, effort {@link Effort#QUICK}, seed 1, no listener, and
   * depth counted in levels.
   *
   * @param lutInputs see the record
   * @return the settings
   */
  public static MapperSettings of(int lutInputs) {
    return new MapperSettings(
        lutInputs, Objective.AREA, Effort.QUICK, 1, SearchProgress.NONE, DelayModel.LEVELS);
  }

  /**
   * Returns settings with another objective.
   *
   * @param value the objective
   * @return new settings
   */
  public MapperSettings with(Objective value) {
    return new MapperSettings(lutInputs, value, effort, seed, progress, delays);
  }

  /**
   * Returns settings with another effort.
   *
   * @param value the effort
   * @return new settings
   */
  public MapperSettings with(Effort value) {
    return new MapperSettings(lutInputs, objective, value, seed, progress, delays);
  }

  /**
   * Returns settings with another seed.
   *
   * @param value the seed
   * @return new settings
   */
  public MapperSettings withSeed(long value) {
    return new MapperSettings(lutInputs, objective, effort, value, progress, delays);
  }

  /**
   * Returns settings with another listener.
   *
   * @param value the listener
   * @return new settings
   */
  public MapperSettings with(SearchProgress value) {
    return new MapperSettings(lutInputs, objective, effort, seed, value, delays);
  }

  /**
   * Returns settings with another model of delays.
   *
   * @param value the model; arrivals are in the order of the inputs of what is mapped
   * @return new settings
   */
  public MapperSettings with(DelayModel value) {
    return new MapperSettings(lutInputs, objective, effort, seed, progress, value);
  }

  /**
   * Returns the order in which networks are preferred.
   *
   * @return the order, the best network first
   */
  public Comparator<LutNetwork> order() {
    return NetworkOrder.of(objective, delays);
  }

  /**
   * Returns the order in which networks are preferred where those within a bound on delay come
   * first.
   *
   * @param mostDelay the bound, in the unit of the delays
   * @return the order, the best network first
   */
  public Comparator<LutNetwork> orderWithin(int mostDelay) {
    Comparator<LutNetwork> excess =
        Comparator.comparingInt(network -> Math.max(0, delays.delay(network) - mostDelay));
    return excess.thenComparing(order());
  }

  /**
   * Returns the delay of a number of levels, each as slow as the slowest input of a LUT.
   *
   * @param levels how many; {@link Integer#MAX_VALUE} for no bound
   * @return in the unit of the delays; {@link Integer#MAX_VALUE} for no bound
   */
  public int delayOf(int levels) {
    return levels > Integer.MAX_VALUE / delays.level()
        ? Integer.MAX_VALUE
        : levels * delays.level();
  }
}

package dev.lengthwise.logic.map;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LevelFront;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.rewrite.EditableNetwork;
import dev.lengthwise.work.TimedSearch;
import dev.lengthwise.work.Work;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.function.DoubleConsumer;

/**
 * Maps truth tables to LUT networks.
 *
 * <p>Several starts are raced: functional decompositions of different bound sets and codes, gates
 * made for the table and restructured, gates that the caller has, and where levels count first sums
 * of products. The best of each kind walk a short way among equal networks ({@code PlateauWalk}),
 * and the winner walks on; the best network seen is kept. Immutable; every {@code with} method
 * returns a changed copy. The same settings give the same network on every run.
 */
public final class LutMapper {

  private final MapperSettings settings;
  private final int mostLevels;
  private final Optional<LutNetwork> gates;
  private final DoubleConsumer progress;
  private final boolean walks;

  private LutMapper(
      MapperSettings settings,
      int mostLevels,
      Optional<LutNetwork> gates,
      DoubleConsumer progress,
      boolean walks) {
    this.settings = settings;
    this.mostLevels = mostLevels;
    this.gates = gates;
    this.progress = progress;
    this.walks = walks;
  }

  private LutMapper with(MapperSettings changed) {
    return new LutMapper(changed, mostLevels, gates, progress, walks);
  }

  /**
   * Returns a mapper for LUTs of a size: quick, seed 1, area first, without a bound on levels.
   *
   * @param mostFanIns the inputs of a LUT, in [3, 8]
   * @return the mapper
   * @throws IllegalArgumentException if that is out of range
   */
  public static LutMapper forInputs(int mostFanIns) {
    if (mostFanIns < 3 || mostFanIns > LutNetwork.MOST_FAN_INS) {
      throw new IllegalArgumentException(
          "lut mapper: the inputs of a lut must be in [3, 8], found " + mostFanIns);
    }
    return new LutMapper(
        MapperSettings.of(mostFanIns), Integer.MAX_VALUE, Optional.empty(), share -> {}, true);
  }

  /**
   * Returns a mapper with another effort.
   *
   * @param value how much work to spend
   * @return the mapper
   */
  public LutMapper withEffort(Effort value) {
    return with(settings.with(value));
  }

  /**
   * Returns a mapper with another seed.
   *
   * @param value where the random choices start
   * @return the mapper
   */
  public LutMapper withSeed(long value) {
    return with(settings.withSeed(value));
  }

  /**
   * Returns a mapper with another objective.
   *
   * @param value what to minimise first
   * @return the mapper
   */
  public LutMapper withObjective(Objective value) {
    return with(settings.with(value));
  }

  /**
   * Returns a mapper that counts depth by what signals take.
   *
   * @param value the delays, the arrivals of inputs and what outputs are needed at
   * @return the mapper
   */
  public LutMapper withDelays(DelayModel value) {
    return with(settings.with(value));
  }

  /**
   * Returns a mapper that prefers every network within a bound on levels to any beyond it. Where
   * delays are given, a level is the time through the slowest input of a LUT, and outputs are there
   * within so many from the start.
   *
   * @param value the most levels, at least 1
   * @return the mapper
   * @throws IllegalArgumentException if the bound is below 1
   */
  public LutMapper withMostLevels(int value) {
    if (value < 1) {
      throw new IllegalArgumentException(
          "lut mapper: the most levels must be at least 1, found " + value);
    }
    return new LutMapper(settings, value, gates, progress, walks);
  }

  /**
   * Returns a mapper that reports how far it is.
   *
   * @param listener gets the share of the work done, in (0, 1], rising
   * @return the mapper
   */
  public LutMapper withProgress(DoubleConsumer listener) {
    Objects.requireNonNull(listener, "listener");
    return new LutMapper(settings, mostLevels, gates, listener, walks);
  }

  /**
   * Returns a mapper that starts from gates too, as arithmetic is often known by.
   *
   * @param network a network that agrees with the function at every point that matters, its inputs
   *     and outputs in the function's order; gates of any size
   * @return the mapper
   */
  public LutMapper withGates(LutNetwork network) {
    return new LutMapper(settings, mostLevels, Optional.of(network), progress, walks);
  }

  /** Returns a mapper for a part of a network that walks as a whole: its starts only. */
  LutMapper withoutWalk() {
    return new LutMapper(settings, mostLevels, gates, progress, false);
  }

  /**
   * Maps a function. With a bound on levels, the result may exceed it if no start met it; ask
   * {@link LutNetwork#levels()}.
   *
   * @param function what to map
   * @return a network that agrees with the function at every point that matters
   * @throws IllegalArgumentException if the gates given are not the function
   * @throws CancelledException if the thread is interrupted
   */
  public LutNetwork map(TruthTables function) {
    gates.ifPresent(network -> check(network, function));
    return right(mapUnchecked(function, settings.seed()), function);
  }

  /**
   * Maps a function for as long as a time lasts, on all processors: as {@link #map} does first,
   * then by walks that set out from the best network and by new starts. If the thread is
   * interrupted after the first network is there, the best so far is returned and the flag stays
   * set. How often networks walk depends on the machine, so the result does too.
   *
   * @param function what to map
   * @param time how long to search at least; the first network takes what it takes
   * @return the best network, which agrees with the function at every point that matters, and what
   *     was tried
   * @throws IllegalArgumentException if the gates given are not the function, or the time is not
   *     above 0
   * @throws CancelledException if the thread is interrupted before there is a network
   */
  public TimedMapping mapFor(TruthTables function, Duration time) {
    if (time.isNegative() || time.isZero()) {
      throw new IllegalArgumentException("lut mapper: the time must be above 0, found " + time);
    }
    gates.ifPresent(network -> check(network, function));
    LutMapper silent = withProgress(share -> {});
    TimedSearch<LutNetwork> search =
        new TimedSearch<>(
            silent.steps(function),
            settings.orderWithin(settings.delayOf(mostLevels)),
            LutMapper::size,
            settings.seed());
    LutNetwork best = right(search.run(time, progress), function);
    return new TimedMapping(best, search.account(), search.isInterrupted());
  }

  private TimedSearch.Steps<LutNetwork> steps(TruthTables function) {
    return new TimedSearch.Steps<>() {
      @Override
      public LutNetwork start(long seed) {
        return mapUnchecked(function, seed);
      }

      @Override
      public LutNetwork goOn(LutNetwork best, long seed, long end) {
        Race walking = race(function, seed);
        return Work.parallel(() -> walking.walkOn(best, end));
      }
    };
  }

  private static String size(LutNetwork network) {
    return network.luts().size() + " LUTs, " + network.levels() + " levels";
  }

  /**
   * Maps a function in fewer and fewer levels, for a choice between area and clock: each network
   * has the fewest LUTs that were found in its levels. The objective does not count.
   *
   * @param function what to map
   * @return networks within the bound on levels, the fewest LUTs first, each of fewer levels and
   *     more LUTs than the one before; the first alone if none is within the bound
   * @throws IllegalArgumentException if the gates given are not the function
   * @throws CancelledException if the thread is interrupted
   */
  public List<LutNetwork> front(TruthTables function) {
    LutMapper area = withObjective(Objective.AREA);
    return LevelFront.of(
        area.map(function),
        mostLevels,
        network -> network.luts().size(),
        settings.delays()::levels,
        levels -> area.withMostLevels(levels).mapWithin(function));
  }

  /** Maps a function, with little work if there seems to be no network within the bound. */
  private LutNetwork mapWithin(TruthTables function) {
    gates.ifPresent(network -> check(network, function));
    Starts starts = new Starts(function, settings, settings.delayOf(mostLevels), gates);
    Race race = race(function, settings.seed());
    return right(Work.parallel(() -> race.runWithin(starts, progress)), function);
  }

  private LutNetwork mapUnchecked(TruthTables function, long seed) {
    Starts starts =
        new Starts(function, settings.withSeed(seed), settings.delayOf(mostLevels), gates);
    Race race = race(function, seed);
    return Work.parallel(
        () ->
            walks
                ? race.run(starts, progress)
                : race.best(race.started(starts.decompositions(), progress)));
  }

  private Race race(TruthTables function, long seed) {
    return new Race(function, settings.withSeed(seed), settings.delayOf(mostLevels));
  }

  private static LutNetwork right(LutNetwork network, TruthTables function) {
    if (!new EditableNetwork(network, function.outputs(), 0).isRight()) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT, "lut mapper: the network must be its table, found a wrong %s", network));
    }
    return network;
  }

  private static void check(LutNetwork network, TruthTables function) {
    if (!network.inputNames().equals(function.inputNames())
        || network.outputs().size() != function.outputs().size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lut mapper: gates of the inputs %s and %d outputs are expected, found %s and %d",
              function.inputNames(),
              function.outputs().size(),
              network.inputNames(),
              network.outputs().size()));
    }
    if (!new EditableNetwork(network, function.outputs(), 0).isRight()) {
      throw new IllegalArgumentException(
          "lut mapper: the gates must be the function, found another one");
    }
  }
}

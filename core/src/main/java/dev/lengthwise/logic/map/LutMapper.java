package dev.lengthwise.logic.map;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.decompose.Decomposer;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.network.NetworkOrder;
import dev.lengthwise.logic.rewrite.EditableNetwork;
import dev.lengthwise.logic.rewrite.ExchangeWalk;
import dev.lengthwise.logic.rewrite.Resubstitution;
import dev.lengthwise.work.Work;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.DoubleConsumer;
import java.util.stream.IntStream;

/**
 * Maps truth tables to LUT networks.
 *
 * <p>Several starts (functional decompositions of different bound sets and codes, annealed covers;
 * where levels count first also flat sums of products) are each shrunk by resubstitution. The best
 * of them race along the plateau of equal networks ({@link ExchangeWalk}), and the winner walks on;
 * the best network seen is kept. Immutable; every {@code with} method returns a changed copy. The
 * same settings give the same network on every run.
 */
public final class LutMapper {

  /** Where levels count first, one start of so many is a sum of products. */
  private static final int STARTS_A_FLAT_ONE = 3;

  /** The networks that walk a short way each; the best of them walks on. */
  private static final int RACERS = 3;

  /** The walks that set out from the best, each with draws of its own. */
  private static final int FINALISTS = 2;

  /** The parts of a walk: the best network at the end of one is kept. */
  private static final int LEGS = 10;

  /** The levels that a walk may have beyond its start where LUTs count first. */
  private static final int SPARE_LEVELS = 2;

  /** Up to so many words of points, a step takes about the same time. */
  private static final int WORDS_OF_A_STEP = 32;

  private final MapperSettings settings;
  private final int mostLevels;
  private final DoubleConsumer progress;
  private final boolean walks;

  private LutMapper(
      MapperSettings settings, int mostLevels, DoubleConsumer progress, boolean walks) {
    this.settings = settings;
    this.mostLevels = mostLevels;
    this.progress = progress;
    this.walks = walks;
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
    return new LutMapper(MapperSettings.of(mostFanIns), Integer.MAX_VALUE, share -> {}, true);
  }

  /**
   * Returns a mapper with another effort.
   *
   * @param value how much work to spend
   * @return the mapper
   */
  public LutMapper withEffort(Effort value) {
    return new LutMapper(settings.with(value), mostLevels, progress, walks);
  }

  /**
   * Returns a mapper with another seed.
   *
   * @param value where the random choices start
   * @return the mapper
   */
  public LutMapper withSeed(long value) {
    return new LutMapper(settings.withSeed(value), mostLevels, progress, walks);
  }

  /**
   * Returns a mapper with another objective.
   *
   * @param value what to minimise first
   * @return the mapper
   */
  public LutMapper withObjective(Objective value) {
    return new LutMapper(settings.with(value), mostLevels, progress, walks);
  }

  /**
   * Returns a mapper that prefers every network within a bound on levels to any beyond it.
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
    return new LutMapper(settings, value, progress, walks);
  }

  /**
   * Returns a mapper that reports how far it is.
   *
   * @param listener gets the share of the work done, in (0, 1], rising
   * @return the mapper
   */
  public LutMapper withProgress(DoubleConsumer listener) {
    return new LutMapper(settings, mostLevels, Objects.requireNonNull(listener, "listener"), walks);
  }

  /** Returns a mapper for a part of a network that walks as a whole: its starts only. */
  LutMapper withoutWalk() {
    return new LutMapper(settings, mostLevels, progress, false);
  }

  /**
   * Maps a function. With a bound on levels, the result may exceed it if no start met it; ask
   * {@link LutNetwork#levels()}.
   *
   * @param function what to map
   * @return a network that agrees with the function at every point that matters
   * @throws CancelledException if the thread is interrupted
   */
  public LutNetwork map(TruthTables function) {
    LutNetwork best = Work.parallel(() -> best(function));
    if (!new EditableNetwork(best, function.outputs(), 0).isRight()) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT, "lut mapper: the network must be its table, found a wrong %s", best));
    }
    return best;
  }

  private LutNetwork best(TruthTables function) {
    SplittableRandom random = new SplittableRandom(settings.seed());
    Effort effort = settings.effort();
    Told told = new Told(effort.starts() + (walks ? (RACERS + FINALISTS) * LEGS : 0));
    // The first of equal networks in the order of the starts is the best, so threads do not count.
    List<LutNetwork> started =
        each(
            effort.starts(),
            random,
            (number, draws) -> {
              LutNetwork network = start(function, number, draws);
              LutNetwork shrunk = shrink(function, network, number, draws);
              told.another();
              return shrunk;
            });
    if (!walks) {
      return Collections.min(started, order());
    }
    List<LutNetwork> racers = started.stream().sorted(order()).limit(RACERS).toList();
    List<LutNetwork> raced =
        each(
            racers.size(),
            random,
            (n, draws) -> walk(function, racers.get(n), effort.raceSteps(), draws, told));
    LutNetwork leader = Collections.min(raced, order());
    List<LutNetwork> finished =
        each(
            FINALISTS,
            random,
            (n, draws) -> walk(function, leader, effort.walkSteps(), draws, told));
    return Collections.min(finished, order());
  }

  /** What makes a network of its number and its own draws. */
  private interface Maker {
    LutNetwork make(int number, SplittableRandom draws);
  }

  private static List<LutNetwork> each(int count, SplittableRandom random, Maker maker) {
    List<SplittableRandom> own =
        IntStream.range(0, count).mapToObj(number -> random.split()).toList();
    return IntStream.range(0, count)
        .parallel()
        .mapToObj(number -> maker.make(number, own.get(number)))
        .toList();
  }

  /** Walks from a network, and returns the best seen at the end of a leg. */
  private LutNetwork walk(
      TruthTables function, LutNetwork from, int steps, SplittableRandom draws, Told told) {
    EditableNetwork net = new EditableNetwork(from, function.outputs(), 0);
    int spare = settings.objective() == Objective.DEPTH ? 0 : SPARE_LEVELS;
    int bound = Math.max(from.levels(), Math.min(mostLevels, from.levels() + spare));
    ExchangeWalk walk = new ExchangeWalk(net, settings.lutInputs(), bound, draws);
    LutNetwork best = from;
    for (int leg = 0; leg < LEGS; leg++) {
      walk.run(steps / LEGS / Math.max(1, net.words / WORDS_OF_A_STEP));
      LutNetwork network = net.toNetwork(function.inputNames(), function.outputNames());
      best = order().compare(network, best) < 0 ? network : best;
      told.another();
    }
    return best;
  }

  /** Tells the share of the parts that are finished, one thread at a time. */
  private final class Told {

    private final int parts;
    private int count;

    Told(int parts) {
      this.parts = parts;
    }

    synchronized void another() {
      count++;
      double share = Math.min(1.0, (double) count / parts);
      Work.tell(() -> progress.accept(share));
    }
  }

  private Comparator<LutNetwork> order() {
    Comparator<LutNetwork> excess =
        Comparator.comparingInt(network -> Math.max(0, network.levels() - mostLevels));
    return excess.thenComparing(NetworkOrder.of(settings.objective()));
  }

  private LutNetwork start(TruthTables function, int number, SplittableRandom random) {
    if (settings.objective() == Objective.DEPTH
        && number % STARTS_A_FLAT_ONE == 1
        && ProductSum.fits(function.inputs(), settings.lutInputs())) {
      return ProductSum.build(function, settings.lutInputs(), new Random(random.nextLong()));
    }
    LutNetworkBuilder builder = LutNetwork.builder(function.inputNames());
    int[] signals = new int[function.inputs()];
    for (int i = 0; i < signals.length; i++) {
      signals[i] = i;
    }
    Decomposer decomposer =
        new Decomposer(
            settings.lutInputs(),
            new Decomposer.Annealing(
                settings.effort().annealMoves(), settings.effort().annealTries(), random),
            builder,
            number == 0 ? 0.0 : 1.0);
    int[] made = decomposer.build(function.outputs(), signals);
    for (int o = 0; o < made.length; o++) {
      builder.output(function.outputNames().get(o), made[o]);
    }
    return builder.build();
  }

  private LutNetwork shrink(
      TruthTables function, LutNetwork network, int start, SplittableRandom random) {
    EditableNetwork net = new EditableNetwork(network, function.outputs(), 0);
    // Plateau walks drift into depth that buys nothing, so area gets only a few levels to trade.
    int bound = network.levels() + (settings.objective() == Objective.DEPTH ? 0 : start % 3);
    if (mostLevels != Integer.MAX_VALUE) {
      bound = Math.max(Math.min(bound, mostLevels), network.levels());
    }
    // Larger tables take longer for each step; the work stays about the same.
    int steps = Math.max(200, settings.effort().steps() / Math.max(1, net.words / 8));
    new Resubstitution(net, settings.lutInputs(), bound, random).run(steps);
    return net.toNetwork(function.inputNames(), function.outputNames());
  }
}

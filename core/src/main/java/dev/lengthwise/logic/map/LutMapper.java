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
import dev.lengthwise.logic.rewrite.Resubstitution;
import dev.lengthwise.work.Work;
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
 * where levels count first also flat sums of products) are each shrunk by resubstitution; the best
 * network is kept. Immutable; every {@code with} method returns a changed copy. The same settings
 * give the same network on every run.
 */
public final class LutMapper {

  /** Where levels count first, one start of so many is a sum of products. */
  private static final int STARTS_A_FLAT_ONE = 3;

  private final MapperSettings settings;
  private final int mostLevels;
  private final DoubleConsumer progress;

  private LutMapper(MapperSettings settings, int mostLevels, DoubleConsumer progress) {
    this.settings = settings;
    this.mostLevels = mostLevels;
    this.progress = progress;
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
    return new LutMapper(MapperSettings.of(mostFanIns), Integer.MAX_VALUE, share -> {});
  }

  /**
   * Returns a mapper with another effort.
   *
   * @param value how much work to spend
   * @return the mapper
   */
  public LutMapper withEffort(Effort value) {
    return new LutMapper(settings.with(value), mostLevels, progress);
  }

  /**
   * Returns a mapper with another seed.
   *
   * @param value where the random choices start
   * @return the mapper
   */
  public LutMapper withSeed(long value) {
    return new LutMapper(settings.withSeed(value), mostLevels, progress);
  }

  /**
   * Returns a mapper with another objective.
   *
   * @param value what to minimise first
   * @return the mapper
   */
  public LutMapper withObjective(Objective value) {
    return new LutMapper(settings.with(value), mostLevels, progress);
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
    return new LutMapper(settings, value, progress);
  }

  /**
   * Returns a mapper that reports how far it is.
   *
   * @param listener gets the share of the work done, in (0, 1], rising
   * @return the mapper
   */
  public LutMapper withProgress(DoubleConsumer listener) {
    return new LutMapper(settings, mostLevels, Objects.requireNonNull(listener, "listener"));
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
    List<SplittableRandom> own =
        IntStream.range(0, settings.effort().starts()).mapToObj(start -> random.split()).toList();
    Finished finished = new Finished();
    // The first of equal networks in the order of the starts is the best, so threads do not count.
    return IntStream.range(0, settings.effort().starts())
        .parallel()
        .mapToObj(
            start -> {
              LutNetwork network = start(function, start, own.get(start));
              LutNetwork shrunk = shrink(function, network, start, own.get(start));
              finished.another();
              return shrunk;
            })
        .min(order())
        .orElseThrow();
  }

  /** Reports the starts that are finished, one thread at a time. */
  private final class Finished {

    private int count;

    synchronized void another() {
      count++;
      double share = (double) count / settings.effort().starts();
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

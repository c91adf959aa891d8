package dev.lengthwise.logic.map;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.rewrite.EditableNetwork;
import dev.lengthwise.logic.rewrite.LevelReduction;
import dev.lengthwise.logic.rewrite.PlateauWalk;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.BooleanSupplier;
import java.util.function.DoubleConsumer;
import java.util.stream.IntStream;

/**
 * Lets networks of a table walk, and the best walk on.
 *
 * <p>The first of equal networks in the order of the starts is the best, so threads do not count.
 */
final class Race {

  /** The decompositions that race, at most; of the other kinds the best does. */
  private static final int DECOMPOSITIONS = 2;

  /** The covers of the caller's gates that race, at most. */
  private static final int GIVEN = 2;

  /** The walks that set out from the best, each with draws of its own. */
  private static final int FINALISTS = 2;

  /** The parts of a walk: the best network at the end of one is kept. */
  private static final int LEGS = 10;

  /** The levels that a walk may have beyond its start where LUTs count first. */
  private static final int SPARE_LEVELS = 5;

  /** The LUTs looked at to save a level, and the searches for one that may fail. */
  private static final int STEPS_A_LEVEL = 200;

  private static final int MOST_FAILURES = 2;

  /** The steps by which LUTs are won back after each LUT that was moved a level earlier. */
  private static final int RECOVERY = 150;

  /** The further LUTs, beside as many as there are, that lower levels may take. */
  private static final int SPARE_SLOTS = 16;

  /** Tables of fewer words of points get more steps, up to so many times. */
  private static final int FEW_WORDS = 8;

  private static final int MOST_FACTOR = 4;

  /** Networks of so many LUTs get as many more: the last LUT of a few is the hardest to win. */
  private static final int FEW_LUTS = 12;

  /**
   * Networks of so many LUTs are lowered so often if the first try meets the bound, and the best
   * goes on, for the same reason.
   */
  private static final int FEW_TO_LOWER = 16;

  private static final int TRIES_TO_LOWER = 16;

  /** Up to so many words of points, a step takes about the same time. */
  private static final int WORDS_OF_A_STEP = 64;

  private final TruthTables function;
  private final MapperSettings settings;
  private final int mostDelay;
  private final Comparator<LutNetwork> order;
  private final SplittableRandom random;

  Race(TruthTables function, MapperSettings settings, int mostDelay) {
    this.function = function;
    this.settings = settings;
    this.mostDelay = mostDelay;
    this.order = settings.orderWithin(mostDelay);
    this.random = new SplittableRandom(settings.seed());
  }

  LutNetwork best(List<LutNetwork> networks) {
    return Collections.min(networks, order);
  }

  /** Makes the networks that starts give. */
  List<LutNetwork> started(List<Starts.Maker> makers, DoubleConsumer progress) {
    return started(makers, new Told(makers.size(), progress));
  }

  private List<LutNetwork> started(List<Starts.Maker> makers, Told told) {
    return each(
        makers.size(),
        (number, draws) -> {
          LutNetwork network = makers.get(number).make(draws);
          told.another();
          return network;
        });
  }

  /** A network in the race, and the draws that are left for its walk. */
  private record Racer(LutNetwork network, SplittableRandom draws) {}

  /** Starts, races and walks on. */
  LutNetwork run(Starts starts, DoubleConsumer progress) {
    return run(starts, progress, false);
  }

  /**
   * As {@link #run}, for a caller who has no use for a network beyond the bound on levels: if none
   * is within it after all were lowered, none walks.
   */
  LutNetwork runWithin(Starts starts, DoubleConsumer progress) {
    return run(starts, progress, true);
  }

  private LutNetwork run(Starts starts, DoubleConsumer progress, boolean within) {
    List<Starts.Maker> decompositions = starts.decompositions();
    List<Starts.Maker> made = starts.madeGates();
    List<Starts.Maker> given = starts.givenGates();
    List<Starts.Maker> makers = new ArrayList<>(decompositions);
    makers.addAll(made);
    makers.addAll(given);
    int racing =
        Math.min(DECOMPOSITIONS, decompositions.size())
            + Math.min(1, made.size())
            + Math.min(GIVEN, given.size());
    Told told = new Told(makers.size() + (racing + FINALISTS) * LEGS, progress);
    List<LutNetwork> all = started(makers, told);
    LutNetwork first = best(all);
    if (Floor.of(function, settings.lutInputs()).isMetBy(first, settings.delays())) {
      told.all();
      return first;
    }
    int gates = decompositions.size();
    List<LutNetwork> chosen = new ArrayList<>();
    chosen.addAll(both(all.subList(0, gates)));
    chosen.addAll(first(all.subList(gates, gates + made.size()), 1));
    chosen.addAll(first(all.subList(gates + made.size(), all.size()), GIVEN));
    List<Racer> racers =
        each(chosen.size(), (n, draws) -> new Racer(lower(chosen.get(n), draws), draws));
    if (within && racers.stream().noneMatch(racer -> delay(racer.network()) <= mostDelay)) {
      told.all();
      return best(racers.stream().map(Racer::network).toList());
    }
    Effort effort = settings.effort();
    LutNetwork leader =
        best(
            racers.parallelStream()
                .map(racer -> walk(racer.network(), effort.raceLooks(), racer.draws(), told))
                .toList());
    if (delay(leader) <= mostDelay
        && Floor.of(function, settings.lutInputs()).isMetBy(leader, settings.delays())) {
      told.all();
      return leader;
    }
    return best(each(FINALISTS, (n, draws) -> walk(leader, effort.walkLooks(), draws, told)));
  }

  /**
   * Lets as many walks as there are processors set out from a network, until a time.
   *
   * @param from the network
   * @param end when to end, as {@link System#nanoTime} counts
   * @return the best seen
   */
  LutNetwork walkOn(LutNetwork from, long end) {
    int walks = Runtime.getRuntime().availableProcessors();
    Told told = new Told(walks * LEGS, share -> {});
    int looks = settings.effort().walkLooks();
    return best(
        each(
            walks,
            (n, draws) -> walk(from, looks, draws, told, () -> System.nanoTime() - end >= 0)));
  }

  /** Returns the two best; the second is of few LUTs, though it may have to be lowered. */
  private List<LutNetwork> both(List<LutNetwork> networks) {
    LutNetwork first = best(networks);
    List<LutNetwork> others = new ArrayList<>(networks);
    others.remove(first);
    List<LutNetwork> result = new ArrayList<>(List.of(first));
    others.stream().min(settings.order()).ifPresent(result::add);
    return result;
  }

  private List<LutNetwork> first(List<LutNetwork> networks, int count) {
    return networks.stream().sorted(order).limit(count).toList();
  }

  /** What makes something, mostly a network, of its number and its own draws. */
  private interface Maker<T> {
    T make(int number, SplittableRandom draws);
  }

  private <T> List<T> each(int count, Maker<T> maker) {
    List<SplittableRandom> own =
        IntStream.range(0, count).mapToObj(number -> random.split()).toList();
    return IntStream.range(0, count)
        .parallel()
        .mapToObj(number -> maker.make(number, own.get(number)))
        .toList();
  }

  /** Walks from a network, and returns the best seen at the end of a leg. */
  private LutNetwork walk(LutNetwork from, int looks, SplittableRandom draws, Told told) {
    return walk(from, looks, draws, told, () -> false);
  }

  private LutNetwork walk(
      LutNetwork from, int looks, SplittableRandom draws, Told told, BooleanSupplier ended) {
    EditableNetwork net =
        new EditableNetwork(from, function.outputs(), 0).timedBy(settings.delays());
    PlateauWalk walk = new PlateauWalk(net, settings.lutInputs(), bound(from), draws);
    LutNetwork best = from;
    for (int leg = 0; leg < LEGS && !ended.getAsBoolean(); leg++) {
      walk.run(scaled(looks, net.words, from.luts().size()) / LEGS);
      LutNetwork network = net.toNetwork(function.inputNames(), function.outputNames());
      best = order.compare(network, best) < 0 ? network : best;
      told.another();
    }
    return best;
  }

  /** Lowers a network towards the bound on levels, by further LUTs where it must. */
  private LutNetwork lower(LutNetwork from, SplittableRandom draws) {
    if (delay(from) <= mostDelay) {
      return from;
    }
    LutNetwork lowered = lower(from, new Random(draws.nextLong()));
    if (delay(lowered) > mostDelay || from.luts().size() > FEW_TO_LOWER) {
      return lowered;
    }
    List<Random> others =
        IntStream.range(1, TRIES_TO_LOWER).mapToObj(n -> new Random(draws.nextLong())).toList();
    List<LutNetwork> all = new ArrayList<>(List.of(lowered));
    all.addAll(others.parallelStream().map(random -> lower(from, random)).toList());
    return best(all);
  }

  private LutNetwork lower(LutNetwork from, Random random) {
    EditableNetwork net =
        new EditableNetwork(from, function.outputs(), SPARE_SLOTS + from.luts().size())
            .timedBy(settings.delays());
    LutNetwork best = from;
    int failed = 0;
    while (delay(best) > mostDelay && failed < MOST_FAILURES) {
      int steps = STEPS_A_LEVEL / Math.max(1, net.words / WORDS_OF_A_STEP);
      boolean lowered = new LevelReduction(net, settings.lutInputs(), RECOVERY, random).run(steps);
      failed = lowered ? 0 : failed + 1;
      LutNetwork network = net.toNetwork(function.inputNames(), function.outputNames());
      best = order.compare(network, best) < 0 ? network : best;
    }
    return best;
  }

  /**
   * Returns more steps for small tables and for small networks of tables that are not large, fewer
   * for large ones, as each is faster or slower.
   */
  private static int scaled(int steps, int words, int luts) {
    if (words >= WORDS_OF_A_STEP) {
      return steps / (words / WORDS_OF_A_STEP);
    }
    if (words >= FEW_WORDS) {
      return steps * (luts <= FEW_LUTS ? MOST_FACTOR : 1);
    }
    return steps * Math.min(MOST_FACTOR, FEW_WORDS / words);
  }

  private int bound(LutNetwork from) {
    if (settings.objective() == Objective.DEPTH) {
      return delay(from);
    }
    int free = delay(from) + settings.delayOf(SPARE_LEVELS);
    return mostDelay == Integer.MAX_VALUE ? free : Math.max(delay(from), mostDelay);
  }

  private int delay(LutNetwork network) {
    return settings.delays().delay(network);
  }

  /** Tells the share of the parts that are finished, one thread at a time. */
  private static final class Told {

    private final int parts;
    private final DoubleConsumer progress;
    private int count;

    Told(int parts, DoubleConsumer progress) {
      this.parts = parts;
      this.progress = progress;
    }

    synchronized void another() {
      count++;
      double share = Math.min(1.0, (double) count / parts);
      Work.tell(() -> progress.accept(share));
    }

    /** Nothing is left to do. */
    synchronized void all() {
      if (count < parts) {
        count = parts;
        Work.tell(() -> progress.accept(1.0));
      }
    }
  }
}

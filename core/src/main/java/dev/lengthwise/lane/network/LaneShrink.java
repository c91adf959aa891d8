package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.diagram.DecisionDiagrams;
import dev.lengthwise.logic.diagram.TooManyNodesException;
import dev.lengthwise.logic.network.DelayFloor;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.NetworkOrder;
import dev.lengthwise.logic.rewrite.EditableNetwork;
import dev.lengthwise.logic.rewrite.LevelReduction;
import dev.lengthwise.logic.rewrite.PlateauWalk;
import dev.lengthwise.logic.rewrite.SpecifiedPoints;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.function.IntConsumer;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * Shrinks the network of a lane across its blocks, with what the whole lane leaves open.
 *
 * <p>The network is rewritten as far as a sample of points tells, then compared with the lane by
 * decision diagrams. If a step went too far, points at which it did join the sample and the step is
 * taken back, so every network returned is the lane's function.
 */
public final class LaneShrink {

  /** The points taken from one failed comparison, for each output that is wrong. */
  private static final int POINTS_OF_A_FAILURE = 48;

  /** About the points of a lane that walks see at first. */
  private static final int POINTS = 3_000;

  /** About the points at which a network is tried before its diagrams are made. */
  private static final int POINTS_IN_RESERVE = 100_000;

  /** The points in reserve that a walk may come to see. */
  private static final int ROOM = 2_048;

  /** The walks that set out from one network; the best goes on. */
  private static final int WALKS = 2;

  /** The steps of a walk before walks are compared. */
  private static final int MOST_STEPS_A_WALK = 4_000;

  private static final int LEAST_STEPS_A_WALK = 250;

  /** The LUTs looked at to save a level, and in a small network each so often. */
  private static final int STEPS_A_LEVEL = 1_000;

  private static final int STEPS_A_LUT = 20;

  /**
   * The LUTs looked at in a row, for each LUT of the network, none of which could be said anew,
   * before a try ends: those that lowered networks of up to twenty LUTs found one after 7.
   */
  private static final int IDLE_A_LUT = 10;

  /** The steps by which LUTs are won back after each LUT that was moved a level earlier. */
  private static final int RECOVERY = 150;

  /** The steps of a walk after a level less, before such networks are compared. */
  private static final int STEPS_AFTER_A_LEVEL = 4_000;

  private static final int LOOKS_A_LUT = 80;

  private static final String SHRUNK =
      "shrunk across the blocks: a LUT says what its role states where that matters to the length";

  /** The diagram nodes from which on the diagrams are made anew. */
  private static final int MOST_NODES = 1 << 22;

  /** The nodes that the diagrams of one network may add: those of a lane take far fewer. */
  private static final int MOST_NODES_OF_A_NETWORK = 1 << 20;

  private final LaneFunction shape;
  private final int lutInputs;
  private final DelayModel delays;
  private final Comparator<LutNetwork> order;
  private final LaneSample sample;
  private final LaneSample reserve;
  private final SpecifiedPoints unseen;
  private final Random random;
  private final IntConsumer told;
  private LaneDiagram lane;
  private int[] wanted;
  private int care;

  /**
   * Prepares to polish networks of a lane.
   *
   * @param shape the lane
   * @param lutInputs the inputs of a LUT
   * @param delays what signals take, inputs in the order of the lane's
   * @param seed what the draws start from
   * @param told gets the LUTs of the best network, now and then
   */
  public LaneShrink(
      LaneFunction shape, int lutInputs, DelayModel delays, long seed, IntConsumer told) {
    this.told = told;
    this.shape = shape;
    this.lutInputs = lutInputs;
    this.delays = delays;
    this.order = NetworkOrder.of(Objective.AREA, delays);
    this.sample = new LaneSample(shape, POINTS, seed);
    this.reserve = new LaneSample(shape, POINTS_IN_RESERVE, ~seed);
    this.unseen = reserve.points(0);
    this.random = new Random(seed);
    renew();
  }

  private void renew() {
    lane = new LaneDiagram(shape);
    care = lane.care();
    wanted = new int[shape.lengthBits()];
    for (int b = 0; b < wanted.length; b++) {
      wanted[b] = lane.bit(b);
    }
  }

  /**
   * How much to search for a level less.
   *
   * @param searches the searches that may fail
   * @param tries the tries of each; the smallest network goes on
   * @param steps how many LUTs are looked at to shrink a network before each
   */
  public record LevelSearch(int searches, int tries, int steps) {}

  /** Returns the delay that no network of the lane is below. */
  private int floor() {
    return IntStream.range(0, wanted.length)
        .map(bit -> delays.after(bit) + DelayFloor.of(delays, lutInputs, lane.reads(bit)))
        .max()
        .orElse(0);
  }

  /** A network on the way and what its LUTs are for. */
  private record Mapped(LutNetwork network, List<LaneMapping.Role> roles) {}

  private int delay(Mapped mapped) {
    return delays.delay(mapped.network());
  }

  /** Rewrites a network as far as the sample tells. */
  @FunctionalInterface
  private interface Walk {
    void run(EditableNetwork net, int number, SplittableRandom moves);
  }

  /**
   * Shrinks a mapping: LUTs first, and delay where that costs no LUT.
   *
   * @param mapping the mapping
   * @param steps how many LUTs are looked at
   * @param spare the delay that the result may have beyond that of the mapping, where that saves
   *     LUTs, at least 0
   */
  public LaneMapping run(LaneMapping mapping, int steps, int spare) {
    Mapped best = shrink(new Mapped(mapping.network(), mapping.roles()), steps, spare);
    List<String> codes = new ArrayList<>(mapping.codes());
    if (!codes.contains(SHRUNK)) {
      codes.add(SHRUNK);
    }
    return LaneMapping.prove(shape, best.network(), best.roles(), codes);
  }

  /**
   * Lowers the delay of a mapping level by level, by further LUTs where it must, as far as the
   * inputs that matter leave room. Before each level it is shrunk: what is won back while there are
   * levels to spare stays won.
   *
   * @param mapping the mapping
   * @param mostDelay the delay at which to stop
   * @param search how much to search
   * @return a mapping of less delay if it was found
   */
  public LaneMapping flatten(LaneMapping mapping, int mostDelay, LevelSearch search) {
    Mapped best = new Mapped(mapping.network(), mapping.roles());
    int least = floor();
    int failed = 0;
    while (delay(best) > mostDelay
        && delay(best) - delays.step() >= least
        && failed < search.searches()) {
      Mapped shrunk = shrink(best, search.steps(), 0);
      int delay = delay(shrunk);
      Optional<Mapped> lower =
          firstRight(
              shrunk,
              walk(shrunk, search.tries(), (net, number, moves) -> lower(net, delay, moves)),
              network -> delays.delay(network) < delay);
      failed = lower.isPresent() ? 0 : failed + 1;
      best = lower.orElse(shrunk);
      told.accept(best.network().luts().size());
    }
    return LaneMapping.prove(shape, best.network(), best.roles(), mapping.codes());
  }

  private void lower(EditableNetwork net, int delay, SplittableRandom moves) {
    Random draws = new Random(moves.nextLong());
    int steps = Math.min(STEPS_A_LEVEL, STEPS_A_LUT * net.size());
    int idle = IDLE_A_LUT * net.size();
    if (new LevelReduction(net, lutInputs, RECOVERY, draws).run(steps, idle)) {
      new PlateauWalk(net, lutInputs, delay - delays.step(), moves)
          .run(Math.min(STEPS_AFTER_A_LEVEL, LOOKS_A_LUT * net.size()));
    }
  }

  /**
   * Lets walks set out from a network, and from the best that they come to: one within the levels
   * that there are, one with some to spare.
   *
   * @param spare the delay that networks on the way may have beyond that of the first
   */
  private Mapped shrink(Mapped from, int steps, int spare) {
    int mostDelay = delay(from) + spare;
    Mapped best = from;
    Mapped last = from;
    int each = MOST_STEPS_A_WALK;
    int done = 0;
    while (done < steps) {
      int looks = each;
      done += WALKS * looks;
      Mapped start = last;
      Optional<Mapped> next =
          firstRight(
              start,
              walk(
                  start,
                  WALKS,
                  (net, number, moves) -> {
                    int own = number % 2 == 0 ? delay(start) : mostDelay;
                    PlateauWalk walk = new PlateauWalk(net, lutInputs, own, moves);
                    walk.duplicate(number);
                    walk.run(looks);
                  }),
              network ->
                  delays.delay(network) <= mostDelay
                      && network.luts().size() <= start.network().luts().size());
      each =
          next.isPresent()
              ? Math.min(MOST_STEPS_A_WALK, 2 * each)
              : Math.max(LEAST_STEPS_A_WALK, each / 2);
      last = next.orElse(start);
      best = order.compare(last.network(), best.network()) <= 0 ? last : best;
      told.accept(best.network().luts().size());
    }
    return best;
  }

  /** Where a walk came, and what points in reserve it met. */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  private record Walked(EditableNetwork.Clean clean, int[] learned) {}

  /** Lets walks set out from a network, a few at a time, and returns where they came. */
  private List<EditableNetwork.Clean> walk(Mapped from, int walks, Walk walk) {
    LutNetwork network = from.network();
    int spareSlots = network.luts().size();
    List<SplittableRandom> moves =
        Stream.generate(() -> new SplittableRandom(random.nextLong())).limit(walks).toList();
    List<Walked> walked =
        IntStream.range(0, walks)
            .parallel()
            .mapToObj(
                number -> {
                  EditableNetwork net =
                      new EditableNetwork(
                              network, sample.points(ROOM), Optional.of(unseen), spareSlots)
                          .timedBy(delays);
                  walk.run(net, number, moves.get(number));
                  return new Walked(net.clean(network.inputNames(), names(network)), net.learned());
                })
            .toList();
    walked.forEach(w -> Arrays.stream(w.learned()).forEach(p -> sample.addFrom(reserve, p)));
    return walked.stream().map(Walked::clean).toList();
  }

  /** Returns the smallest that meets a condition and is the lane; the sample learns of others. */
  private Optional<Mapped> firstRight(
      Mapped from, List<EditableNetwork.Clean> found, Predicate<LutNetwork> condition) {
    return found.stream()
        .filter(clean -> condition.test(clean.network()))
        .sorted(Comparator.comparing(EditableNetwork.Clean::network, order))
        .filter(clean -> !learn(clean.network()))
        .findFirst()
        .map(clean -> new Mapped(clean.network(), roles(from, clean)));
  }

  /** Lets every LUT keep the role of the one that it came from, others that of their reader. */
  private static List<LaneMapping.Role> roles(Mapped from, EditableNetwork.Clean next) {
    List<LaneMapping.Role> old = from.roles();
    int inputs = from.network().inputNames().size();
    LaneMapping.Role[] roles = new LaneMapping.Role[next.network().luts().size()];
    for (int slot = 0; slot < old.size(); slot++) {
      int lut = next.signals()[slot] - inputs;
      if (lut >= 0 && roles[lut] == null) {
        roles[lut] = old.get(slot);
      }
    }
    for (int lut = roles.length - 1; lut >= 0; lut--) {
      for (int signal : next.network().luts().get(lut).fanIns()) {
        if (signal >= inputs && roles[signal - inputs] == null) {
          roles[signal - inputs] = roles[lut];
        }
      }
    }
    return List.of(roles);
  }

  private static List<String> names(LutNetwork network) {
    return network.outputs().stream().map(LutNetwork.Output::name).toList();
  }

  /**
   * Adds points at which a network is wrong to the sample; tells whether it was not found right.
   */
  private boolean learn(LutNetwork network) {
    if (lane.diagrams().size() > MOST_NODES) {
      renew();
    }
    DecisionDiagrams diagrams = lane.diagrams();
    diagrams.bound(diagrams.size() + MOST_NODES_OF_A_NETWORK);
    try {
      int[] outputs = lane.outputs(network);
      boolean wrong = false;
      for (int b = 0; b < outputs.length; b++) {
        int where = diagrams.and(care, diagrams.differ(outputs[b], wanted[b]));
        wrong |= where != 0;
        for (int i = 0; i < POINTS_OF_A_FAILURE && where != 0; i++) {
          add(diagrams.randomPoint(where, random));
        }
      }
      return wrong;
    } catch (TooManyNodesException e) {
      renew();
      return true;
    }
  }

  private void add(boolean[] point) {
    int[] window = new int[shape.bytes()];
    int modes = 0;
    for (int i = 0; i < 8 * window.length; i++) {
      window[i >> 3] |= point[lane.variableOf(i)] ? 1 << (i & 7) : 0;
    }
    for (int m = 0; m < shape.modes().size(); m++) {
      modes |= point[lane.variableOf(8 * window.length + m)] ? 1 << m : 0;
    }
    sample.add(window, modes);
  }
}

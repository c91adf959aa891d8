package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.exact.Refutation;
import dev.lengthwise.logic.exact.Relation;
import dev.lengthwise.logic.exact.RelationBuilder;
import dev.lengthwise.logic.exact.RelationSynthesis;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.sat.Sat;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.SplittableRandom;
import java.util.TreeSet;

/**
 * Lowers the delay of a network, by further LUTs where it must: in the model of levels a level.
 *
 * <p>A step takes a LUT on a longest path and says it anew, earlier by that, from what it and late
 * LUTs before it read: signals that are late go into the last LUT, the others may pass through one
 * or two LUTs before it. Wirings are drawn, few LUTs first, and the solver fills in the tables,
 * with exact don't-cares at the points simulated. LUTs are won back at once by resubstitution
 * within the levels aimed at, so that paths lowered before stay low.
 */
public final class LevelReduction {

  private static final int MOST_SOURCES = 14;
  private static final int MOST_ADDED = 4;
  private static final int MOST_DEEP = 3;
  private static final int WIRINGS = 4;
  private static final int CONES = 4;
  private static final int CONFLICTS = 400;

  private final EditableNetwork net;
  private final int lutInputs;
  private final int recovery;
  private final Random random;

  /**
   * Prepares a search.
   *
   * @param net what to lower
   * @param lutInputs the inputs of a LUT
   * @param recovery the steps of resubstitution after each LUT said anew by more LUTs
   * @param random what the draws come from
   */
  public LevelReduction(EditableNetwork net, int lutInputs, int recovery, Random random) {
    this.net = net;
    this.lutInputs = lutInputs;
    this.recovery = recovery;
    this.random = random;
  }

  /**
   * Lowers the network by one step of its model of delays, a level.
   *
   * @param steps the most LUTs to look at
   * @return whether that was reached
   */
  public boolean run(int steps) {
    return run(steps, steps);
  }

  /**
   * Lowers the network by one step of its model of delays, a level, as long as LUTs can be said
   * anew.
   *
   * @param steps the most LUTs to look at
   * @param idle the most to look at in a row where none could be said anew
   * @return whether that was reached
   */
  public boolean run(int steps, int idle) {
    int aim = Timing.of(net).delay() - net.delays().step();
    SplittableRandom moves = new SplittableRandom(random.nextLong());
    int failed = 0;
    for (int i = 0; i < steps && failed < idle && Timing.of(net).delay() > aim; i++) {
      Work.check();
      Timing timing = Timing.of(net);
      int slot = onLongPath(timing, aim);
      if (slot < 0) {
        return false;
      }
      int before = net.size();
      failed = step(slot, timing, aim - timing.behind(slot)) ? 0 : failed + 1;
      if (net.size() > before) {
        new Resubstitution(net, lutInputs, aim, moves).run(recovery);
      }
    }
    return Timing.of(net).delay() <= aim;
  }

  /**
   * Draws a LUT that a path longer than a time enters from another LUT; one on many such paths
   * rather than one on few. Returns -1 if there is none.
   */
  private int onLongPath(Timing timing, int than) {
    int[] order = net.order();
    double[] before = new double[net.fanIns.length];
    double[] behind = new double[net.fanIns.length];
    boolean[] follows = new boolean[net.fanIns.length];
    for (int slot : order) {
      for (int k = 0; k < net.fanIns[slot].length; k++) {
        int reads = net.fanIns[slot][k] - net.inputs;
        if (reads >= 0 && timing.isLonger(slot, k, than)) {
          follows[slot] = true;
          before[slot] += before[reads];
        }
      }
      before[slot] = follows[slot] ? before[slot] : 1;
    }
    double all = 0;
    for (int i = order.length - 1; i >= 0; i--) {
      int slot = order[i];
      behind[slot] = behind[slot] == 0 ? 1 : behind[slot];
      for (int k = 0; k < net.fanIns[slot].length; k++) {
        int reads = net.fanIns[slot][k] - net.inputs;
        if (reads >= 0 && timing.isLonger(slot, k, than)) {
          behind[reads] += behind[slot];
        }
      }
      all += follows[slot] ? before[slot] * behind[slot] : 0;
    }
    double at = random.nextDouble() * all;
    int drawn = -1;
    for (int slot : order) {
      if (follows[slot] && at >= 0) {
        drawn = slot;
        at -= before[slot] * behind[slot];
      }
    }
    return drawn;
  }

  /**
   * Says a LUT anew, to be there at a time, by as few further LUTs as are found; tells whether that
   * was found.
   */
  private boolean step(int slot, Timing timing, int most) {
    int mostAdded = isLast(0, most) ? 0 : Math.min(MOST_ADDED, lutInputs);
    for (int added = 0; added <= mostAdded; added++) {
      for (int cone = 0; cone < CONES; cone++) {
        if (lower(slot, timing, most, added)) {
          return true;
        }
      }
    }
    return false;
  }

  /** Tells whether what is there at a time has to go through at most one LUT. */
  private boolean isLast(int time, int most) {
    return time > most - 2 * net.delays().fastest();
  }

  /** Says a LUT anew, to be there at a time, with LUTs directly before it. */
  private boolean lower(int slot, Timing timing, int most, int added) {
    int[] sources = sources(slot, timing, most);
    List<Integer> late = new ArrayList<>();
    List<Integer> early = new ArrayList<>();
    List<Integer> first = new ArrayList<>();
    boolean flat = isLast(0, most);
    for (int s = 0; s < sources.length; s++) {
      int at = timing.read(sources[s]);
      if (at > most - net.delays().fastest()) {
        return false;
      }
      (isLast(at, most) && !flat ? late : early).add(s);
      if (at <= most - 3 * net.delays().fastest()) {
        first.add(s);
      }
    }
    if (sources.length > MOST_SOURCES
        || late.size() + added > lutInputs
        || flat && sources.length > lutInputs) {
      return false;
    }
    Relation relation = relation(slot, sources);
    for (int i = 0; i < WIRINGS; i++) {
      int deep = added == 0 || first.isEmpty() ? 0 : random.nextInt(MOST_DEEP + 1);
      if (added + deep > net.fanIns.length - net.size()) {
        return false;
      }
      Wiring topology = draw(sources.length, new Pools(late, early, first), added, deep);
      if (isLate(topology, sources, timing, most) || Refutation.refutes(topology, relation)) {
        continue;
      }
      RelationSynthesis.Result result = RelationSynthesis.solve(topology, relation, CONFLICTS);
      if (result.verdict() == Sat.Verdict.SATISFIABLE) {
        apply(slot, sources, topology, result.tables());
        return true;
      }
    }
    return false;
  }

  /** Tells whether the last LUT of a wiring is later than a time, as some inputs are slower. */
  private boolean isLate(Wiring topology, int[] sources, Timing timing, int most) {
    if (net.delays().isUniform()) {
      return false;
    }
    int[] times = Arrays.copyOf(sources, sources.length + topology.fanIns().length);
    Arrays.setAll(times, s -> s < sources.length ? timing.read(sources[s]) : 0);
    for (int i = 0; i < topology.fanIns().length; i++) {
      times[sources.length + i] =
          net.delays().lut(Arrays.stream(topology.fanIns()[i]).map(s -> times[s]).toArray());
    }
    return times[times.length - 1] > most;
  }

  /**
   * Returns signals that determine a LUT: what it reads, LUTs that are too late replaced by what
   * they read, and so are some of those that only just are early enough. Inputs stay.
   */
  private int[] sources(int slot, Timing timing, int most) {
    Set<Integer> result = new TreeSet<>();
    Arrays.stream(net.fanIns[slot]).forEach(result::add);
    int room = random.nextInt(lutInputs + 1);
    while (result.size() <= MOST_SOURCES) {
      List<Integer> tooLate = new ArrayList<>();
      List<Integer> late = new ArrayList<>();
      for (int signal : result) {
        int at = timing.read(signal);
        if (signal >= net.inputs && at > most - net.delays().fastest()) {
          tooLate.add(signal);
        } else if (signal >= net.inputs && isLast(at, most)) {
          late.add(signal);
        }
      }
      List<Integer> from = tooLate.isEmpty() && late.size() > room ? late : tooLate;
      if (from.isEmpty()) {
        break;
      }
      int replaced = from.get(random.nextInt(from.size()));
      result.remove(replaced);
      Arrays.stream(net.fanIns[replaced - net.inputs]).forEach(result::add);
    }
    return result.stream().mapToInt(Integer::intValue).toArray();
  }

  private Relation relation(int slot, int[] sources) {
    long[] care = net.care(slot, net.fanOutCone(slot));
    long[] value = net.values[net.inputs + slot];
    long[][] values = Arrays.stream(sources).mapToObj(s -> net.values[s]).toArray(long[][]::new);
    RelationBuilder relation = new RelationBuilder(sources.length, 1);
    for (int w = 0; w < net.words; w++) {
      relation.add(values, w, care[w], new long[] {~value[w], value[w]});
    }
    return relation.build();
  }

  /** Sources by level: those of the last one, those before, and of the latter those far before. */
  private record Pools(List<Integer> late, List<Integer> early, List<Integer> first) {}

  /**
   * Draws the fan-ins of LUTs: deep ones of the first sources, some of early sources and deep ones,
   * and a last one of those and all late sources.
   */
  private Wiring draw(int sources, Pools pools, int added, int deep) {
    int[][] fanIns = new int[deep + added + 1][];
    List<Integer> pool = new ArrayList<>(pools.early);
    for (int i = 0; i < deep; i++) {
      fanIns[i] = some(pools.first, lutInputs);
      pool.add(sources + i);
    }
    List<Integer> last = new ArrayList<>();
    for (int i = deep; i < deep + added; i++) {
      fanIns[i] = some(pool, lutInputs);
      last.add(sources + i);
    }
    last.addAll(pools.late);
    Collections.shuffle(pool, random);
    for (int i = 0; i < pool.size() && last.size() < lutInputs; i++) {
      last.add(pool.get(i));
    }
    fanIns[deep + added] = last.stream().mapToInt(Integer::intValue).toArray();
    return new Wiring(sources, fanIns, new int[] {sources + deep + added});
  }

  private int[] some(List<Integer> from, int most) {
    List<Integer> pool = new ArrayList<>(from);
    Collections.shuffle(pool, random);
    return pool.stream().limit(most).mapToInt(Integer::intValue).toArray();
  }

  private void apply(int slot, int[] sources, Wiring topology, long[][] tables) {
    EditableNetwork.Saved before = net.save();
    int last = tables.length - 1;
    int[] slots = new int[tables.length];
    slots[last] = slot;
    // Empty slots are taken at once, so that the next search does not find them again.
    for (int i = 0; i < last; i++) {
      slots[i] = net.freeSlot();
      net.set(slots[i], new int[0], new long[1]);
    }
    for (int i = 0; i < tables.length; i++) {
      int[] own = topology.fanIns()[i];
      int[] fanIns = new int[own.length];
      for (int k = 0; k < own.length; k++) {
        fanIns[k] =
            own[k] < sources.length ? sources[own[k]] : net.inputs + slots[own[k] - sources.length];
      }
      net.set(slots[i], fanIns, tables[i]);
    }
    net.sweep();
    net.simulate();
    net.keep(before);
  }
}

package dev.lengthwise.logic.rewrite;

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
 * Lowers the levels of a network, by further LUTs where it must.
 *
 * <p>A step takes a LUT on a longest path and says it anew, a level earlier, from what it and late
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
   * Lowers the network by one level.
   *
   * @param steps the most LUTs to look at
   * @return whether that was reached
   */
  public boolean run(int steps) {
    int levels = levels();
    SplittableRandom moves = new SplittableRandom(random.nextLong());
    for (int i = 0; i < steps && levels() == levels; i++) {
      Work.check();
      int slot = onLongestPath(levels);
      if (slot < 0) {
        return false;
      }
      int before = net.size();
      step(slot);
      if (net.size() > before) {
        new Resubstitution(net, lutInputs, levels - 1, moves).run(recovery);
      }
    }
    return levels() < levels;
  }

  private int levels() {
    return Arrays.stream(net.levels()).max().orElse(0);
  }

  /**
   * Draws a LUT on a longest path, not at the first level; one on many such paths rather than one
   * on few. Returns -1 if there is none.
   */
  private int onLongestPath(int levels) {
    int[] order = net.order();
    int[] level = net.levels();
    int[] height = net.heights();
    double[] before = new double[net.fanIns.length];
    double[] behind = new double[net.fanIns.length];
    for (int slot : order) {
      before[slot] = level[slot] == 1 ? 1 : 0;
      for (int signal : net.fanIns[slot]) {
        int reads = signal - net.inputs;
        before[slot] += reads >= 0 && level[reads] + 1 == level[slot] ? before[reads] : 0;
      }
    }
    double all = 0;
    for (int i = order.length - 1; i >= 0; i--) {
      int slot = order[i];
      behind[slot] += height[slot] == 0 ? 1 : 0;
      boolean longest = level[slot] + height[slot] == levels;
      for (int signal : net.fanIns[slot]) {
        int reads = signal - net.inputs;
        if (longest && reads >= 0 && level[reads] + 1 == level[slot]) {
          behind[reads] += behind[slot];
        }
      }
      all += longest && level[slot] > 1 ? before[slot] * behind[slot] : 0;
    }
    double at = random.nextDouble() * all;
    int drawn = -1;
    for (int slot : order) {
      if (level[slot] + height[slot] == levels && level[slot] > 1 && at >= 0) {
        drawn = slot;
        at -= before[slot] * behind[slot];
      }
    }
    return drawn;
  }

  /** Says a LUT anew, by as few further LUTs as are found. */
  private void step(int slot) {
    int[] level = net.levels();
    int most = level[slot] - 1;
    int mostAdded = most == 1 ? 0 : Math.min(MOST_ADDED, lutInputs);
    for (int added = 0; added <= mostAdded; added++) {
      for (int cone = 0; cone < CONES; cone++) {
        if (lower(slot, most, added, level)) {
          return;
        }
      }
    }
  }

  /** Says a LUT anew at a level with LUTs directly before it. */
  private boolean lower(int slot, int most, int added, int[] level) {
    int[] sources = sources(slot, most, level);
    List<Integer> late = new ArrayList<>();
    List<Integer> early = new ArrayList<>();
    List<Integer> first = new ArrayList<>();
    for (int s = 0; s < sources.length; s++) {
      int at = levelOf(sources[s], level);
      (at == most - 1 && most > 1 ? late : early).add(s);
      if (at < most - 2) {
        first.add(s);
      }
    }
    if (sources.length > MOST_SOURCES
        || late.size() + added > lutInputs
        || most == 1 && sources.length > lutInputs) {
      return false;
    }
    Relation relation = relation(slot, sources);
    for (int i = 0; i < WIRINGS; i++) {
      int deep = added == 0 || first.isEmpty() ? 0 : random.nextInt(MOST_DEEP + 1);
      if (added + deep > net.fanIns.length - net.size()) {
        return false;
      }
      Wiring topology = draw(sources.length, new Pools(late, early, first), added, deep);
      RelationSynthesis.Result result = RelationSynthesis.solve(topology, relation, CONFLICTS);
      if (result.verdict() == Sat.Verdict.SATISFIABLE) {
        apply(slot, sources, topology, result.tables());
        return true;
      }
    }
    return false;
  }

  private int levelOf(int signal, int[] level) {
    return signal < net.inputs ? 0 : level[signal - net.inputs];
  }

  /**
   * Returns signals that determine a LUT: what it reads, LUTs that are too late replaced by what
   * they read, and so are some of those that only just are early enough.
   */
  private int[] sources(int slot, int most, int[] level) {
    Set<Integer> result = new TreeSet<>();
    Arrays.stream(net.fanIns[slot]).forEach(result::add);
    int room = random.nextInt(lutInputs + 1);
    while (result.size() <= MOST_SOURCES) {
      List<Integer> tooLate = new ArrayList<>();
      List<Integer> late = new ArrayList<>();
      for (int signal : result) {
        int at = levelOf(signal, level);
        if (at >= most) {
          tooLate.add(signal);
        } else if (at == most - 1 && at > 0) {
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

package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;

/**
 * Lowers the levels of a network, by further LUTs where it must.
 *
 * <p>A step takes a LUT on a longest path and says it anew, a level earlier, from what it and its
 * latest fan-ins read: signals that are late go into the last LUT, the others may pass through LUTs
 * before it. Wirings are drawn, few LUTs first, and the solver fills in the tables, with exact
 * don't-cares at the points simulated.
 */
final class LevelSearch {

  private static final int MOST_SOURCES = 14;
  private static final int MOST_ADDED = 4;
  private static final int WIRINGS = 10;
  private static final int CONFLICTS = 400;

  private final WorkNet net;
  private final int lutInputs;
  private final Random random;

  LevelSearch(WorkNet net, int lutInputs, Random random) {
    this.net = net;
    this.lutInputs = lutInputs;
    this.random = random;
  }

  /**
   * Lowers the network by one level.
   *
   * @param steps the most LUTs to look at
   * @return whether that was reached
   */
  boolean run(int steps) {
    int levels = levels();
    for (int i = 0; i < steps && levels() == levels; i++) {
      List<Integer> longest = longest(levels);
      step(longest.get(random.nextInt(longest.size())));
    }
    return levels() < levels;
  }

  private int levels() {
    return Arrays.stream(net.levels()).max().orElse(0);
  }

  /** Returns the LUTs on longest paths that are not at the first level. */
  private List<Integer> longest(int levels) {
    int[] level = net.levels();
    int[] height = net.heights();
    List<Integer> result = new ArrayList<>();
    for (int slot : net.order()) {
      if (level[slot] + height[slot] == levels && level[slot] > 1) {
        result.add(slot);
      }
    }
    return result;
  }

  private void step(int slot) {
    int[] level = net.levels();
    int[] sources = sources(slot, level);
    if (sources.length > MOST_SOURCES) {
      return;
    }
    int most = level[slot] - 1;
    List<Integer> late = new ArrayList<>();
    List<Integer> early = new ArrayList<>();
    for (int s = 0; s < sources.length; s++) {
      (levelOf(sources[s], level) == most - 1 && most > 1 ? late : early).add(s);
    }
    if (late.size() > lutInputs || most == 1 && sources.length > lutInputs) {
      return;
    }
    Relation relation = relation(slot, sources);
    for (int added = 0; added <= MOST_ADDED && added <= lutInputs - late.size(); added++) {
      if (added > 0 && most == 1) {
        return;
      }
      for (int i = 0; i < WIRINGS; i++) {
        Topology topology = draw(sources.length, late, early, added);
        TopologySolver.Result result = TopologySolver.solve(topology, relation, CONFLICTS);
        if (result.verdict() == Sat.Verdict.SATISFIABLE) {
          apply(slot, sources, topology, result.tables());
          return;
        }
      }
    }
  }

  private int levelOf(int signal, int[] level) {
    return signal < net.inputs ? 0 : level[signal - net.inputs];
  }

  /** Returns what a LUT reads, fan-ins that are too late replaced by what they read. */
  private int[] sources(int slot, int[] level) {
    List<Integer> result = new ArrayList<>();
    for (int signal : net.fanIns[slot]) {
      if (levelOf(signal, level) < level[slot] - 1) {
        result.add(signal);
      } else {
        for (int inner : net.fanIns[signal - net.inputs]) {
          result.add(inner);
        }
      }
    }
    return result.stream().mapToInt(Integer::intValue).distinct().sorted().toArray();
  }

  private Relation relation(int slot, int[] sources) {
    long[] care = net.care(slot, net.fanOutCone(slot));
    long[] value = net.values[net.inputs + slot];
    Map<Integer, Long> rows = new LinkedHashMap<>();
    for (int p = 0; p < 64 * net.words; p++) {
      if ((care[p >> 6] >>> p & 1) == 0) {
        continue;
      }
      int point = 0;
      for (int s = 0; s < sources.length; s++) {
        point |= (int) (net.values[sources[s]][p >> 6] >>> p & 1) << s;
      }
      rows.put(point, 1L << (value[p >> 6] >>> p & 1));
    }
    return new Relation(
        sources.length,
        1,
        rows.keySet().stream().mapToInt(Integer::intValue).toArray(),
        rows.values().stream().mapToLong(Long::longValue).toArray());
  }

  /** Draws the fan-ins of some LUTs of early sources, and of a last one of them and all late. */
  private Topology draw(int sources, List<Integer> late, List<Integer> early, int added) {
    int[][] fanIns = new int[added + 1][];
    List<Integer> last = new ArrayList<>();
    for (int i = 0; i < added; i++) {
      fanIns[i] = some(early, lutInputs);
      last.add(sources + i);
    }
    last.addAll(late);
    List<Integer> pool = new ArrayList<>(early);
    Collections.shuffle(pool, random);
    for (int i = 0; i < pool.size() && last.size() < lutInputs; i++) {
      last.add(pool.get(i));
    }
    fanIns[added] = last.stream().mapToInt(Integer::intValue).toArray();
    return new Topology(sources, fanIns, new int[] {sources + added});
  }

  private int[] some(List<Integer> from, int most) {
    List<Integer> pool = new ArrayList<>(from);
    Collections.shuffle(pool, random);
    return pool.stream().limit(most).mapToInt(Integer::intValue).toArray();
  }

  private void apply(int slot, int[] sources, Topology topology, long[][] tables) {
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
  }
}

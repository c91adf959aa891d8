package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.work.Work;
import java.util.Arrays;

/**
 * Covers a graph with LUTs, by priority cuts.
 *
 * <p>Each gate keeps its best cuts: first by level, which finds the fewest levels of the graph.
 * Then passes within a bound on levels choose by area flow, and at last by the LUTs that a cut
 * really adds, counted. Each pass enumerates cuts anew by what counts in it. A level is a time, as
 * a model of delays has it.
 */
final class CutCover {

  private static final int CUTS_KEPT = 20;

  /** Levels alone take one pass, which may keep more: with few some are missed. */
  private static final int CUTS_FOR_LEVELS = 40;

  private static final int FLOW_PASSES = 2;

  private static final int EXACT_PASSES = 3;

  /**
   * A graph of more gates, as those of circuits are, is covered once: covers take most of the time.
   */
  private static final int MOST_FOR_TWO = 400;

  private static final CutSet.Cut[] NO_CUTS = {};

  /** What the cuts of a pass are ordered by. */
  private enum Goal {
    /** Levels, and then area flow. */
    LEVELS,
    /** Area flow, which guesses how LUTs will be shared. */
    FLOW,
    /** The LUTs that a cut adds to the present cover, counted. */
    LUTS
  }

  private static final int NEVER = Integer.MAX_VALUE / 2;

  private final AndGraph graph;
  private final int lutInputs;
  private final int cutsKept;
  private final DelayModel delays;
  private final int first;
  private final CutSet.Cut[][] cuts;
  private final CutSet.Cut[] best;

  /** The level of the best cut of each node. */
  private final int[] levels;

  /** What a reader of each node pays for it. */
  private final float[] flows;

  private final float[] readers;
  private final int[] refs;
  private final int[] required;
  private final int[] room;

  /** The last question in which a gate was counted. */
  private final int[] counted;

  private int asked;

  private CutCover(AndGraph graph, int lutInputs, DelayModel delays, int cutsKept) {
    this.cutsKept = cutsKept;
    this.graph = graph;
    this.lutInputs = lutInputs;
    this.delays = delays;
    this.first = graph.inputs() + 1;
    this.cuts = new CutSet.Cut[graph.nodes()][];
    this.best = new CutSet.Cut[graph.nodes()];
    this.levels = new int[graph.nodes()];
    Arrays.setAll(levels, node -> node == 0 || node >= first ? 0 : delays.arrival(node - 1));
    this.flows = new float[graph.nodes()];
    this.readers = new float[graph.nodes()];
    this.refs = new int[graph.nodes()];
    this.required = new int[graph.nodes()];
    this.room = new int[lutInputs];
    this.counted = new int[graph.nodes()];
  }

  /**
   * Covers a graph.
   *
   * @param graph its gates numbered in order
   * @param lutInputs the inputs of a LUT
   * @param delays what signals take; how many read them does not count
   * @param mostDelay a bound on delay, kept if the graph allows it; else the least is kept
   * @return the better of two covers of a small graph, which share little and much
   */
  static LutCover of(AndGraph graph, int lutInputs, DelayModel delays, int mostDelay) {
    LutCover cover = of(graph, lutInputs, delays, mostDelay, false);
    if (graph.gates() > MOST_FOR_TWO) {
      return cover;
    }
    LutCover shared = of(graph, lutInputs, delays, mostDelay, true);
    return shared.luts() < cover.luts() && shared.delay() <= Math.max(mostDelay, cover.delay())
        ? shared
        : cover;
  }

  private static LutCover of(
      AndGraph graph, int lutInputs, DelayModel delays, int mostDelay, boolean shares) {
    CutCover cover = new CutCover(graph, lutInputs, delays, CUTS_KEPT);
    cover.flatten();
    int bound = Math.max(mostDelay, cover.delay());
    cover.settle(bound);
    if (shares) {
      cover.share();
    }
    for (int i = 0; i < FLOW_PASSES; i++) {
      cover.pass(Goal.FLOW);
      cover.settle(bound);
    }
    for (int i = 0; i < EXACT_PASSES; i++) {
      cover.pass(Goal.LUTS);
      cover.settle(bound);
    }
    return cover.result();
  }

  /**
   * Takes all that could read a gate for its readers: a gate that many share, as two inputs of a
   * decoder do, is not found while each of them alone is better off without it.
   */
  private void share() {
    Arrays.fill(readers, 0);
    for (CutSet.Cut[] own : cuts) {
      for (CutSet.Cut cut : own == null ? NO_CUTS : own) {
        for (int leaf : cut.leaves()) {
          readers[leaf]++;
        }
      }
    }
    for (int node = 0; node < readers.length; node++) {
      readers[node] = Math.max(1, readers[node]);
    }
  }

  /** Returns the level of each output in the fewest levels of the graph. */
  static int[] levels(AndGraph graph, int lutInputs, DelayModel delays) {
    CutCover cover = new CutCover(graph, lutInputs, delays, CUTS_FOR_LEVELS);
    cover.flatten();
    int[] levels = new int[graph.outputs()];
    for (int i = 0; i < levels.length; i++) {
      levels[i] = graph.output(i) < 2 ? 0 : cover.levels[graph.output(i) >> 1];
    }
    return levels;
  }

  private void flatten() {
    for (int node = 0; node < graph.nodes(); node++) {
      readers[node] = Math.max(1, graph.readers(node));
    }
    Arrays.fill(required, NEVER);
    pass(Goal.LEVELS);
    settle(delay());
  }

  private int delay() {
    int delay = 0;
    for (int i = 0; i < graph.outputs(); i++) {
      int node = graph.output(i) >> 1;
      delay = Math.max(delay, node == 0 ? 0 : levels[node] + delays.after(i));
    }
    return delay;
  }

  private void pass(Goal goal) {
    boolean levelFirst = goal == Goal.LEVELS;
    for (int gate = first; gate < graph.nodes(); gate++) {
      if ((gate & 0x3ff) == 0) {
        Work.check();
      }
      boolean taken = goal == Goal.LUTS && refs[gate] > 0;
      if (taken) {
        leave(best[gate].leaves());
      }
      CutSet found = new CutSet(cutsKept);
      if (best[gate] != null) {
        found.add(cut(best[gate].leaves(), best[gate].sign(), goal, NEVER), levelFirst);
      }
      int most = levelFirst ? NEVER : required[gate];
      CutSet.Cut[] rights = withItself(graph.right(gate) >> 1);
      for (CutSet.Cut a : withItself(graph.left(gate) >> 1)) {
        for (CutSet.Cut b : rights) {
          merge(a, b, found, most, goal);
        }
      }
      cuts[gate] = found.toArray();
      best[gate] = cuts[gate][0];
      levels[gate] = best[gate].level();
      flows[gate] = best[gate].cost() / readers[gate];
      if (taken) {
        take(best[gate].leaves());
      }
    }
  }

  /** Offers the union of two cuts; what a cut costs is asked last, as it takes the longest. */
  private void merge(CutSet.Cut a, CutSet.Cut b, CutSet found, int most, Goal goal) {
    long sign = a.sign() | b.sign();
    int size = CutSet.union(a, b, room, lutInputs);
    if (size < 0 || level(room, size) > most || found.holdsInside(room, size, sign)) {
      return;
    }
    int[] leaves = Arrays.copyOf(room, size);
    found.add(cut(leaves, sign, goal, found.mostCost()), goal == Goal.LEVELS);
  }

  private CutSet.Cut[] withItself(int node) {
    return CutSet.withItself(node, node >= first ? cuts[node] : NO_CUTS);
  }

  /** Returns when the LUT of the first few nodes of a row is there. */
  private int level(int[] leaves, int size) {
    if (!delays.isUniform()) {
      return delays.lut(levelsOf(leaves, size));
    }
    int level = 0;
    for (int i = 0; i < size; i++) {
      level = Math.max(level, levels[leaves[i]]);
    }
    return level + delays.level();
  }

  private int[] levelsOf(int[] leaves, int size) {
    return Arrays.stream(leaves, 0, size).map(leaf -> levels[leaf]).toArray();
  }

  private CutSet.Cut cut(int[] leaves, long sign, Goal goal, float mostCost) {
    int level = level(leaves, leaves.length);
    float cost = 1;
    if (goal == Goal.LUTS) {
      asked++;
      cost = added(leaves, 1, mostCost);
    } else {
      for (int leaf : leaves) {
        cost += flows[leaf];
      }
    }
    return new CutSet.Cut(leaves, sign, level, cost);
  }

  /**
   * Returns the LUTs that the cover would have more with some LUTs counted and one of some leaves;
   * beyond the most, the count may stop.
   */
  private int added(int[] leaves, int before, float most) {
    int luts = before;
    for (int leaf : leaves) {
      if (leaf >= first && refs[leaf] == 0 && counted[leaf] != asked && luts <= most) {
        counted[leaf] = asked;
        luts = added(best[leaf].leaves(), luts + 1, most);
      }
    }
    return luts;
  }

  /** Counts a LUT's readings. */
  private void take(int[] leaves) {
    for (int leaf : leaves) {
      if (leaf >= first && refs[leaf]++ == 0) {
        take(best[leaf].leaves());
      }
    }
  }

  private void leave(int[] leaves) {
    for (int leaf : leaves) {
      if (leaf >= first && --refs[leaf] == 0) {
        leave(best[leaf].leaves());
      }
    }
  }

  /** Counts the readers in the present cover, and when each of its LUTs has to be there. */
  private void settle(int bound) {
    Arrays.fill(refs, 0);
    Arrays.fill(required, NEVER);
    for (int i = 0; i < graph.outputs(); i++) {
      int node = graph.output(i) >> 1;
      refs[node]++;
      required[node] = Math.min(required[node], bound - delays.after(i));
    }
    for (int gate = graph.nodes() - 1; gate >= first; gate--) {
      if (refs[gate] > 0) {
        int[] leaves = best[gate].leaves();
        int[] through = delays.isUniform() ? null : delays.through(levelsOf(leaves, leaves.length));
        for (int i = 0; i < leaves.length; i++) {
          int leaf = leaves[i];
          refs[leaf]++;
          int own = through == null ? delays.level() : through[i];
          required[leaf] = Math.min(required[leaf], required[gate] - own);
        }
      }
      readers[gate] = Math.max(1, (2 * readers[gate] + refs[gate]) / 3);
    }
  }

  private LutCover result() {
    int[][] leaves = new int[graph.nodes()][];
    int luts = 0;
    for (int gate = first; gate < graph.nodes(); gate++) {
      if (refs[gate] > 0) {
        leaves[gate] = best[gate].leaves();
        luts++;
      }
    }
    return new LutCover(graph, leaves, luts, delay());
  }
}

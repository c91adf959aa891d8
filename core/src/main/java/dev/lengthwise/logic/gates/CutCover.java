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

  private static final int NEVER = Integer.MAX_VALUE / 2;

  private final AndGraph graph;
  private final int lutInputs;
  private final int cutsKept;
  private final DelayModel delays;
  private final int first;
  private final CutSet.Cut[][] cuts;
  private final CutSet.Cut[] best;
  private final float[] readers;
  private final int[] refs;
  private final int[] required;
  private final int[] room;

  private CutCover(AndGraph graph, int lutInputs, DelayModel delays, int cutsKept) {
    this.cutsKept = cutsKept;
    this.graph = graph;
    this.lutInputs = lutInputs;
    this.delays = delays;
    this.first = graph.inputs() + 1;
    this.cuts = new CutSet.Cut[graph.nodes()][];
    this.best = new CutSet.Cut[graph.nodes()];
    this.readers = new float[graph.nodes()];
    this.refs = new int[graph.nodes()];
    this.required = new int[graph.nodes()];
    this.room = new int[lutInputs];
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
      cover.pass(false, false);
      cover.settle(bound);
    }
    for (int i = 0; i < EXACT_PASSES; i++) {
      cover.pass(false, true);
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
      levels[i] = graph.output(i) < 2 ? 0 : cover.level(graph.output(i) >> 1);
    }
    return levels;
  }

  private void flatten() {
    for (int node = 0; node < graph.nodes(); node++) {
      readers[node] = Math.max(1, graph.readers(node));
    }
    Arrays.fill(required, NEVER);
    pass(true, false);
    settle(delay());
  }

  private int level(int node) {
    return node >= first ? best[node].level() : node == 0 ? 0 : delays.arrival(node - 1);
  }

  private int delay() {
    int delay = 0;
    for (int i = 0; i < graph.outputs(); i++) {
      int node = graph.output(i) >> 1;
      delay = Math.max(delay, node == 0 ? 0 : level(node) + delays.after(i));
    }
    return delay;
  }

  /** Returns when the LUT of some leaves is there. */
  private int levelOf(int[] leaves) {
    if (!delays.isUniform()) {
      return delays.lut(levelsOf(leaves));
    }
    int level = 0;
    for (int leaf : leaves) {
      level = Math.max(level, level(leaf));
    }
    return level + delays.level();
  }

  private int[] levelsOf(int[] leaves) {
    return Arrays.stream(leaves).map(this::level).toArray();
  }

  private void pass(boolean levelFirst, boolean exact) {
    for (int gate = first; gate < graph.nodes(); gate++) {
      if ((gate & 0x3ff) == 0) {
        Work.check();
      }
      boolean counted = exact && refs[gate] > 0;
      if (counted) {
        leave(best[gate]);
      }
      CutSet found = new CutSet(cutsKept);
      if (best[gate] != null) {
        found.add(cut(best[gate].leaves(), exact), levelFirst);
      }
      for (int[] a : leafSets(graph.left(gate) >> 1)) {
        for (int[] b : leafSets(graph.right(gate) >> 1)) {
          int[] leaves = CutSet.union(a, b, room, lutInputs);
          if (leaves != null) {
            CutSet.Cut cut = cut(leaves, exact);
            if (levelFirst || cut.level() <= required[gate]) {
              found.add(cut, levelFirst);
            }
          }
        }
      }
      cuts[gate] = found.toArray();
      best[gate] = cuts[gate][0];
      if (counted) {
        take(best[gate]);
      }
    }
  }

  /** The cuts of a node, itself first. */
  private int[][] leafSets(int node) {
    CutSet.Cut[] own = node >= first ? cuts[node] : NO_CUTS;
    int[][] result = new int[own.length + 1][];
    result[0] = new int[] {node};
    for (int i = 0; i < own.length; i++) {
      result[i + 1] = own[i].leaves();
    }
    return result;
  }

  private CutSet.Cut cut(int[] leaves, boolean exact) {
    int level = levelOf(leaves);
    long sign = 0;
    for (int leaf : leaves) {
      sign |= 1L << leaf;
    }
    if (!exact) {
      float flow = 1;
      for (int leaf : leaves) {
        flow += leaf >= first ? best[leaf].cost() / readers[leaf] : 0;
      }
      return new CutSet.Cut(leaves, sign, level, flow);
    }
    CutSet.Cut cut = new CutSet.Cut(leaves, sign, level, 0);
    int luts = take(cut);
    leave(cut);
    return new CutSet.Cut(leaves, sign, level, luts);
  }

  /** Counts a LUT's readings and returns the LUTs that the cover now has more. */
  private int take(CutSet.Cut cut) {
    int luts = 1;
    for (int leaf : cut.leaves()) {
      if (leaf >= first && refs[leaf]++ == 0) {
        luts += take(best[leaf]);
      }
    }
    return luts;
  }

  private void leave(CutSet.Cut cut) {
    for (int leaf : cut.leaves()) {
      if (leaf >= first && --refs[leaf] == 0) {
        leave(best[leaf]);
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
        int[] through = delays.isUniform() ? null : delays.through(levelsOf(leaves));
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

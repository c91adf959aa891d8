package dev.lengthwise.logic.gates;

import dev.lengthwise.work.Work;
import java.util.Arrays;

/**
 * Covers a graph with LUTs, by priority cuts.
 *
 * <p>Each gate keeps its best cuts: first by level, which finds the fewest levels of the graph.
 * Then passes within a bound on levels choose by area flow, and at last by the LUTs that a cut
 * really adds, counted. Each pass enumerates cuts anew by what counts in it.
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
  private final int[] arrivals;
  private final int first;
  private final CutSet.Cut[][] cuts;
  private final CutSet.Cut[] best;
  private final float[] readers;
  private final int[] refs;
  private final int[] required;
  private final int[] room;

  private CutCover(AndGraph graph, int lutInputs, int[] arrivals, int cutsKept) {
    this.cutsKept = cutsKept;
    this.graph = graph;
    this.lutInputs = lutInputs;
    this.arrivals = arrivals;
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
   * @param arrivals the level of each input
   * @param mostLevels a bound on levels, kept if the graph allows it; else the fewest are kept
   * @return the better of two covers of a small graph, which share little and much
   */
  static LutCover of(AndGraph graph, int lutInputs, int[] arrivals, int mostLevels) {
    LutCover cover = of(graph, lutInputs, arrivals, mostLevels, false);
    if (graph.gates() > MOST_FOR_TWO) {
      return cover;
    }
    LutCover shared = of(graph, lutInputs, arrivals, mostLevels, true);
    return shared.luts() < cover.luts() && shared.levels() <= Math.max(mostLevels, cover.levels())
        ? shared
        : cover;
  }

  private static LutCover of(
      AndGraph graph, int lutInputs, int[] arrivals, int mostLevels, boolean shares) {
    CutCover cover = new CutCover(graph, lutInputs, arrivals, CUTS_KEPT);
    cover.flatten();
    int bound = Math.max(mostLevels, cover.levels());
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
  static int[] levels(AndGraph graph, int lutInputs, int[] arrivals) {
    CutCover cover = new CutCover(graph, lutInputs, arrivals, CUTS_FOR_LEVELS);
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
    settle(levels());
  }

  private int level(int node) {
    return node >= first ? best[node].level() : node == 0 ? 0 : arrivals[node - 1];
  }

  private int levels() {
    int levels = 0;
    for (int i = 0; i < graph.outputs(); i++) {
      levels = Math.max(levels, level(graph.output(i) >> 1));
    }
    return levels;
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
    int level = 0;
    long sign = 0;
    for (int leaf : leaves) {
      level = Math.max(level, level(leaf));
      sign |= 1L << leaf;
    }
    if (!exact) {
      float flow = 1;
      for (int leaf : leaves) {
        flow += leaf >= first ? best[leaf].cost() / readers[leaf] : 0;
      }
      return new CutSet.Cut(leaves, sign, level + 1, flow);
    }
    CutSet.Cut cut = new CutSet.Cut(leaves, sign, level + 1, 0);
    int luts = take(cut);
    leave(cut);
    return new CutSet.Cut(leaves, sign, level + 1, luts);
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
      refs[graph.output(i) >> 1]++;
      required[graph.output(i) >> 1] = bound;
    }
    for (int gate = graph.nodes() - 1; gate >= first; gate--) {
      if (refs[gate] > 0) {
        for (int leaf : best[gate].leaves()) {
          refs[leaf]++;
          required[leaf] = Math.min(required[leaf], required[gate] - 1);
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
    return new LutCover(graph, leaves, luts, levels());
  }
}

package dev.lengthwise.logic.gates;

import dev.lengthwise.work.Work;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Exchanges the cone above a few leaves for a smaller structure of the same function.
 *
 * <p>What a structure costs is counted with the gates that are there already, and what it saves
 * with those that nothing else reads.
 */
final class ConeRewriting {

  private final AndGraph graph;
  private final Forms forms;
  private final Settings settings;
  private final ConeWords words;
  private final ConeExchange exchange;
  private CutSet.Cut[][] cuts;
  private int[] required;

  /**
   * How cones are chosen.
   *
   * @param leaves the most leaves, in [2, 6]
   * @param cutsKept the cones tried at a gate
   * @param equal whether a structure of the same size is taken
   * @param fast whether levels are won, at whatever gates, or else gates without levels
   */
  record Settings(int leaves, int cutsKept, boolean equal, boolean fast) {}

  private ConeRewriting(AndGraph graph, Forms forms, Settings settings) {
    this.graph = graph;
    this.forms = forms;
    this.settings = settings;
    this.words = new ConeWords(graph);
    this.exchange = new ConeExchange(graph);
  }

  /** Returns a graph of the same outputs, clean. */
  static AndGraph of(AndGraph old, Forms forms, Settings settings) {
    AndGraph graph = old.clean();
    ConeRewriting rewriting = new ConeRewriting(graph, forms, settings);
    int[] order = graph.order();
    rewriting.required = rewriting.exchange.required(order);
    rewriting.cuts = new CutSet.Cut[graph.nodes()][];
    for (int i = 0; i < order.length; i++) {
      if ((i & 0xff) == 0) {
        Work.check();
      }
      if (graph.isGate(order[i])) {
        graph.settle(order[i]);
        rewriting.improve(order[i]);
      }
    }
    return graph.clean();
  }

  private CutSet.Cut[] cutsOf(int node) {
    if (!graph.isGate(node)) {
      return new CutSet.Cut[0];
    }
    if (cuts.length < graph.nodes()) {
      cuts = Arrays.copyOf(cuts, 2 * graph.nodes());
    }
    if (cuts[node] == null) {
      cuts[node] = enumerate(node);
    }
    return cuts[node];
  }

  private CutSet.Cut[] enumerate(int gate) {
    CutSet found = new CutSet(settings.cutsKept);
    int[] room = new int[settings.leaves];
    CutSet.Cut[] rights = withItself(graph.right(gate) >> 1);
    for (CutSet.Cut a : withItself(graph.left(gate) >> 1)) {
      for (CutSet.Cut b : rights) {
        long sign = a.sign() | b.sign();
        int size = CutSet.union(a, b, room, settings.leaves);
        if (size < 0 || found.holdsInside(room, size, sign)) {
          continue;
        }
        int[] leaves = Arrays.copyOf(room, size);
        int cost = 0;
        int level = 0;
        for (int leaf : leaves) {
          // Leaves that much else reads are good places to cut.
          cost += graph.readers(leaf) > 1 ? 2 : 3;
          level = Math.max(level, graph.level(leaf));
        }
        found.add(new CutSet.Cut(leaves, sign, level, cost), settings.fast);
      }
    }
    return found.toArray();
  }

  private CutSet.Cut[] withItself(int node) {
    return CutSet.withItself(node, cutsOf(node));
  }

  private void improve(int gate) {
    int most = Math.max(graph.level(gate), gate < required.length ? required[gate] : 0);
    if (settings.fast && graph.level(gate) < most) {
      return;
    }
    Found found = new Found(most);
    for (CutSet.Cut cut : cutsOf(gate)) {
      long[] table = isLive(cut) ? words.of(gate, cut.leaves()) : null;
      if (table == null || cut.leaves().length < 2) {
        continue;
      }
      int saved = exchange.open(gate, cut.leaves());
      for (Forms.Form form : settings.fast ? forms.all(table[0]) : forms.small(table[0])) {
        int[] cost = exchange.cost(form, cut.leaves(), gate);
        if (cost != null) {
          found.offer(form, cut.leaves(), saved - cost[0], cost[1]);
        }
      }
      exchange.close(gate, cut.leaves());
    }
    if (found.form != null) {
      exchange.exchange(gate, found.form, found.leaves);
    }
  }

  /** The best structure found for a gate. */
  private final class Found {
    private final int most;
    private int gain = settings.equal ? -1 : 0;
    private int level;
    private Forms.@Nullable Form form;
    private int[] leaves = {};

    /** Takes structures up to a level. */
    Found(int mostLevel) {
      this.most = mostLevel;
      this.level = mostLevel;
    }

    void offer(Forms.Form next, int[] nextLeaves, int nextGain, int nextLevel) {
      boolean better;
      if (settings.fast) {
        better = nextLevel < level || (form != null && nextLevel == level && nextGain > gain);
      } else {
        boolean cheaper = nextGain > gain;
        boolean faster = form != null && nextGain == gain && nextLevel < level;
        better = nextLevel <= most && (cheaper || faster);
      }
      if (better) {
        form = next;
        leaves = nextLeaves;
        gain = nextGain;
        level = nextLevel;
      }
    }
  }

  private boolean isLive(CutSet.Cut cut) {
    for (int leaf : cut.leaves()) {
      if (leaf > graph.inputs() && !graph.isGate(leaf)) {
        return false;
      }
    }
    return true;
  }
}

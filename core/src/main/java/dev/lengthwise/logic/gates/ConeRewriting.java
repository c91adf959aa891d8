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
  private CutSet.Cut[][] cuts;
  private int[] required;
  private int saved;

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
  }

  /** Returns a graph of the same outputs, clean. */
  static AndGraph of(AndGraph old, Forms forms, Settings settings) {
    AndGraph graph = old.clean();
    ConeRewriting rewriting = new ConeRewriting(graph, forms, settings);
    int[] order = graph.order();
    rewriting.require(order);
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

  private void require(int[] order) {
    required = new int[graph.nodes()];
    Arrays.fill(required, Integer.MAX_VALUE);
    int levels = 0;
    for (int i = 0; i < graph.outputs(); i++) {
      levels = Math.max(levels, graph.level(graph.output(i) >> 1));
    }
    for (int i = 0; i < graph.outputs(); i++) {
      required[graph.output(i) >> 1] = levels;
    }
    for (int i = order.length - 1; i >= 0; i--) {
      int most = required[order[i]] - 1;
      int left = graph.left(order[i]) >> 1;
      int right = graph.right(order[i]) >> 1;
      required[left] = Math.min(required[left], most);
      required[right] = Math.min(required[right], most);
    }
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
      for (int leaf : cut.leaves()) {
        graph.hold(leaf, 1);
      }
      saved = 0;
      leave(gate);
      for (Forms.Form form : settings.fast ? forms.all(table[0]) : forms.small(table[0])) {
        int[] cost = cost(form, cut.leaves(), gate);
        if (cost != null) {
          found.offer(form, cut.leaves(), saved - cost[0], cost[1]);
        }
      }
      take(gate);
      for (int leaf : cut.leaves()) {
        graph.hold(leaf, -1);
      }
    }
    if (found.form != null) {
      exchange(gate, found.form, found.leaves);
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

  private void exchange(int gate, Forms.Form form, int[] leaves) {
    int literal = form.build(graph, literals(leaves));
    if (literal >> 1 != gate) {
      graph.replace(gate, literal);
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

  private static int[] literals(int[] leaves) {
    return Arrays.stream(leaves).map(leaf -> 2 * leaf).toArray();
  }

  /** Frees what only a gate needs, and counts it. */
  private void leave(int gate) {
    saved++;
    for (int literal : new int[] {graph.left(gate), graph.right(gate)}) {
      int node = literal >> 1;
      graph.hold(node, -1);
      if (graph.readers(node) == 0 && graph.isGate(node)) {
        leave(node);
      }
    }
  }

  private void take(int gate) {
    for (int literal : new int[] {graph.left(gate), graph.right(gate)}) {
      int node = literal >> 1;
      if (graph.readers(node) == 0 && graph.isGate(node)) {
        take(node);
      }
      graph.hold(node, 1);
    }
  }

  /**
   * Counts the gates that a structure adds, and its level; null if the gate itself is in it.
   * Literals that are not there yet are numbered from the end of the graph on.
   */
  private int[] cost(Forms.Form form, int[] leaves, int gate) {
    int inner = 1 + Forms.MOST_INPUTS;
    int[] map = new int[inner + form.gates()];
    int[] level = new int[map.length];
    for (int i = 0; i < leaves.length; i++) {
      map[1 + i] = 2 * leaves[i];
      level[1 + i] = graph.level(leaves[i]);
    }
    int added = 0;
    for (int i = 0; i < form.gates(); i++) {
      int a = map[form.edge(2 * i) >> 1];
      int b = map[form.edge(2 * i + 1) >> 1];
      int found =
          a < 0 || b < 0 ? -1 : graph.find(a ^ form.edge(2 * i) & 1, b ^ form.edge(2 * i + 1) & 1);
      level[inner + i] =
          1 + Math.max(level[form.edge(2 * i) >> 1], level[form.edge(2 * i + 1) >> 1]);
      map[inner + i] = found;
      if (found < 0) {
        added++;
      } else if (found >> 1 == gate) {
        return null;
      } else {
        level[inner + i] = graph.level(found >> 1);
        added += graph.readers(found >> 1) == 0 && graph.isGate(found >> 1) ? 1 : 0;
      }
    }
    return new int[] {added, level[form.output() >> 1]};
  }
}

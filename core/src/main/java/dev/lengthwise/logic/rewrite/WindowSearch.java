package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.exact.Relation;
import dev.lengthwise.logic.exact.RelationBuilder;
import dev.lengthwise.logic.exact.RelationSynthesis;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.sat.Sat;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Replaces a few LUTs of a network by one fewer, by satisfiability.
 *
 * <p>What the LUTs of a window must say together is a relation over the signals that they read: at
 * each point simulated, those combinations of their outputs with which the whole network is right.
 * Wirings with one LUT fewer are drawn, and the solver fills in the tables.
 */
final class WindowSearch {

  private static final int MOST_SOURCES = 12;
  private static final int MOST_OUTPUTS = 3;
  private static final int CONFLICTS = 300;

  private final EditableNetwork net;
  private final int lutInputs;
  private final int mostDelay;
  private final SplittableRandom random;

  WindowSearch(EditableNetwork net, int lutInputs, int mostDelay, SplittableRandom random) {
    this.net = net;
    this.lutInputs = lutInputs;
    this.mostDelay = mostDelay;
    this.random = random;
  }

  /** Tries a window with some wirings; tells whether the network has a LUT fewer. */
  boolean step(int size, int wirings) {
    int[] order = net.order();
    if (order.length < size) {
      return false;
    }
    int[] window = window(size, order);
    if (window.length < size) {
      return false;
    }
    int[] outputs = outputs(window);
    int[] sources = sources(window);
    if (outputs.length > Math.min(MOST_OUTPUTS, size - 1) || sources.length > MOST_SOURCES) {
      return false;
    }
    Relation relation = relation(outputs, sources);
    for (int i = 0; i < wirings; i++) {
      Wiring topology = draw(size - 1, sources.length, outputs.length);
      RelationSynthesis.Result result = RelationSynthesis.solve(topology, relation, CONFLICTS);
      if (result.verdict() == Sat.Verdict.SATISFIABLE
          && apply(window, outputs, sources, topology, result.tables())) {
        return true;
      }
    }
    return false;
  }

  /** Grows a window from a LUT along its neighbours. */
  private int[] window(int size, int[] order) {
    boolean[] in = new boolean[net.fanIns.length];
    List<Integer> window = new ArrayList<>();
    window.add(order[random.nextInt(order.length)]);
    in[window.get(0)] = true;
    while (window.size() < size) {
      List<Integer> near = new ArrayList<>();
      for (int slot : order) {
        if (!in[slot] && isNear(slot, in, window)) {
          near.add(slot);
        }
      }
      if (near.isEmpty()) {
        break;
      }
      int chosen = near.get(random.nextInt(near.size()));
      in[chosen] = true;
      window.add(chosen);
    }
    return isConvex(window, in)
        ? window.stream().mapToInt(Integer::intValue).toArray()
        : new int[0];
  }

  /** Tells whether a LUT feeds the window, is fed by it, or reads much of what it reads. */
  private boolean isNear(int slot, boolean[] in, List<Integer> window) {
    for (int signal : net.fanIns[slot]) {
      if (signal >= net.inputs && in[signal - net.inputs]) {
        return true;
      }
    }
    for (int member : window) {
      int shared = 0;
      for (int signal : net.fanIns[member]) {
        if (signal == net.inputs + slot) {
          return true;
        }
        for (int own : net.fanIns[slot]) {
          shared += own == signal ? 1 : 0;
        }
      }
      if (shared >= 3) {
        return true;
      }
    }
    return false;
  }

  /** Tells that nothing the window reads depends on it. */
  private boolean isConvex(List<Integer> window, boolean[] in) {
    for (int member : window) {
      boolean[] cone = net.fanOutCone(member);
      for (int reader : window) {
        for (int signal : net.fanIns[reader]) {
          int slot = signal - net.inputs;
          if (slot >= 0 && !in[slot] && cone[slot]) {
            return false;
          }
        }
      }
    }
    return true;
  }

  private int[] sources(int[] window) {
    return Arrays.stream(window)
        .flatMap(slot -> Arrays.stream(net.fanIns[slot]))
        .filter(signal -> Arrays.stream(window).noneMatch(slot -> signal == net.inputs + slot))
        .distinct()
        .sorted()
        .toArray();
  }

  /** Returns the LUTs of the window that something outside reads. */
  private int[] outputs(int[] window) {
    boolean[] read = new boolean[net.fanIns.length];
    for (int slot : net.order()) {
      if (Arrays.stream(window).noneMatch(member -> member == slot)) {
        for (int signal : net.fanIns[slot]) {
          if (signal >= net.inputs) {
            read[signal - net.inputs] = true;
          }
        }
      }
    }
    for (int signal : net.outputs) {
      if (signal >= net.inputs) {
        read[signal - net.inputs] = true;
      }
    }
    return Arrays.stream(window).filter(slot -> read[slot]).toArray();
  }

  private Relation relation(int[] outputs, int[] sources) {
    int combinations = 1 << outputs.length;
    long[][] right = new long[combinations][];
    for (int c = 0; c < combinations; c++) {
      long[][] forced = new long[outputs.length][net.words];
      for (int o = 0; o < outputs.length; o++) {
        Arrays.fill(forced[o], (c >> o & 1) != 0 ? -1L : 0L);
      }
      right[c] = net.right(net.valuesWith(outputs, forced));
    }
    long[][] values = Arrays.stream(sources).mapToObj(s -> net.values[s]).toArray(long[][]::new);
    RelationBuilder relation = new RelationBuilder(sources.length, outputs.length);
    long[] here = new long[combinations];
    for (int w = 0; w < net.words; w++) {
      for (int c = 0; c < combinations; c++) {
        here[c] = right[c][w];
      }
      relation.add(values, w, -1L, here);
    }
    return relation.build();
  }

  private Wiring draw(int luts, int sources, int outputs) {
    int[][] fanIns = new int[luts][];
    for (int i = 0; i < luts; i++) {
      List<Integer> pool = new ArrayList<>();
      for (int s = 0; s < sources; s++) {
        pool.add(s);
      }
      for (int s = pool.size() - 1; s > 0; s--) {
        java.util.Collections.swap(pool, s, random.nextInt(s + 1));
      }
      // A LUT that is no output must be read; the others read earlier ones as a coin falls.
      for (int earlier = 0; earlier < i; earlier++) {
        if (earlier < luts - outputs || random.nextBoolean()) {
          pool.add(0, sources + earlier);
        }
      }
      fanIns[i] =
          pool.stream()
              .limit(Math.min(lutInputs, pool.size()))
              .mapToInt(Integer::intValue)
              .toArray();
    }
    int[] at = new int[outputs];
    Arrays.setAll(at, o -> sources + luts - outputs + o);
    for (int o = outputs - 1; o > 0; o--) {
      int other = random.nextInt(o + 1);
      int swap = at[o];
      at[o] = at[other];
      at[other] = swap;
    }
    return new Wiring(sources, fanIns, at);
  }

  private boolean apply(
      int[] window, int[] outputs, int[] sources, Wiring topology, long[][] tables) {
    int luts = tables.length;
    // An output keeps its slot, so that its readers need no change.
    int[] slot = new int[luts];
    Arrays.fill(slot, -1);
    boolean[] taken = new boolean[net.fanIns.length];
    for (int o = 0; o < outputs.length; o++) {
      slot[topology.outputs()[o] - sources.length] = outputs[o];
      taken[outputs[o]] = true;
    }
    int next = 0;
    for (int i = 0; i < luts; i++) {
      while (slot[i] < 0) {
        if (!taken[window[next]]) {
          slot[i] = window[next];
          taken[window[next]] = true;
        }
        next++;
      }
    }
    EditableNetwork.Saved before = net.save();
    for (int member : window) {
      net.set(member, null, null);
    }
    for (int i = 0; i < luts; i++) {
      int[] own = new int[topology.fanIns()[i].length];
      for (int k = 0; k < own.length; k++) {
        int signal = topology.fanIns()[i][k];
        own[k] =
            signal < sources.length ? sources[signal] : net.inputs + slot[signal - sources.length];
      }
      net.set(slot[i], own, tables[i]);
    }
    boolean late = Timing.of(net).delay() > mostDelay;
    if (late) {
      for (int w = 0; w < window.length; w++) {
        net.set(window[w], before.fanIns()[window[w]], before.tables()[window[w]]);
      }
    }
    net.sweep();
    net.simulate();
    return !late && net.keep(before);
  }
}

package dev.lengthwise.logic.decompose;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.work.Work;
import java.nio.IntBuffer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * Covers a network of small gates with LUTs, by priority cuts.
 *
 * <p>For logic too wide for a table: adders, comparators, multiplexers. The gates are the LUTs of a
 * {@link LutNetwork} with few fan-ins (gates wider than a LUT are refused). Each gate keeps its
 * best cuts, first by level, then by area flow; the levels found are the least for the given gates.
 * Then, within those levels, gates off the critical paths take the cuts with the least area flow,
 * and at last those that leave the fewest LUTs, counted.
 */
public final class CutMapper {

  private static final int CUTS_KEPT = 24;

  /** Levels alone need fewer cuts than area; these find the same levels on the lanes of tests. */
  private static final int CUTS_FOR_LEVELS = 8;

  private static final int AREA_PASSES = 3;

  private static final int EXACT_PASSES = 2;

  /** The sets of leaves looked at for a gate; only gates of many fan-ins have more. */
  private static final int MOST_SETS = 4000;

  /** A set of signals that determines a gate. */
  private static final class Cut {
    private final int[] leaves;
    private final int level;
    private final double flow;

    private Cut(int[] leaves, int level, double flow) {
      this.leaves = leaves;
      this.level = level;
      this.flow = flow;
    }
  }

  private final LutNetwork gates;
  private final int mostFanIns;
  private final int cutsKept;
  private final int inputs;
  private final List<List<Cut>> cuts = new ArrayList<>();
  private final Cut[] best;
  private final int[] fanOuts;
  private final int[] required;
  private final int[] arrivals;

  private CutMapper(LutNetwork gates, int mostFanIns, int cutsKept) {
    this.cutsKept = cutsKept;
    this.gates = gates;
    this.mostFanIns = mostFanIns;
    this.inputs = gates.inputNames().size();
    this.best = new Cut[gates.luts().size()];
    this.fanOuts = new int[best.length];
    this.required = new int[best.length];
    this.arrivals = new int[inputs];
    Arrays.fill(required, Integer.MAX_VALUE);
    for (LutNetwork.Lut gate : gates.luts()) {
      gate.fanIns().forEach(this::countFanOut);
    }
    gates.outputs().forEach(output -> countFanOut(output.signal()));
  }

  private void countFanOut(int signal) {
    if (signal >= inputs) {
      fanOuts[signal - inputs]++;
    }
  }

  /**
   * Covers gates with LUTs, in the fewest levels for these gates.
   *
   * @param gates a network of gates, each with at most {@code mostFanIns} fan-ins
   * @param mostFanIns the inputs of a LUT, in [3, 8]
   * @return a network with the same inputs, outputs and functions
   * @throws IllegalArgumentException if a gate is too wide or {@code mostFanIns} out of range
   */
  public static LutNetwork map(LutNetwork gates, int mostFanIns) {
    requireFit(gates, mostFanIns);
    CutMapper mapper = new CutMapper(gates, mostFanIns, CUTS_KEPT);
    mapper.enumerate();
    int levels = mapper.levels();
    LutNetwork result = mapper.cover();
    for (int pass = 0; pass < AREA_PASSES; pass++) {
      mapper.require(levels);
      mapper.recover();
      result = better(mapper.cover(), result);
    }
    for (int pass = 0; pass < EXACT_PASSES; pass++) {
      mapper.require(levels);
      mapper.exchange();
      result = better(mapper.cover(), result);
    }
    return result;
  }

  private static LutNetwork better(LutNetwork next, LutNetwork result) {
    boolean smaller = next.luts().size() < result.luts().size();
    return smaller && next.levels() <= result.levels() ? next : result;
  }

  private static void requireFit(LutNetwork gates, int mostFanIns) {
    if (mostFanIns < 3 || mostFanIns > LutNetwork.MOST_FAN_INS || gates.mostFanIns() > mostFanIns) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cut mapper: the inputs of a lut must be in [3, 8] and no fewer than a gate's,"
                  + " found %d and a gate of %d",
              mostFanIns,
              gates.mostFanIns()));
    }
  }

  /**
   * Returns when outputs are there, in the fewest levels for these gates.
   *
   * @param gates a network of gates, each with at most {@code mostFanIns} fan-ins
   * @param mostFanIns the inputs of a LUT, in [3, 8]
   * @param arrivals the level at which each input is there, in the order of the inputs, at least 0
   * @return the level of each output, in their order; 0 for a constant
   * @throws IllegalArgumentException if a gate is too wide, {@code mostFanIns} out of range, or the
   *     arrivals are not as many as the inputs
   */
  public static int[] levels(LutNetwork gates, int mostFanIns, int[] arrivals) {
    requireFit(gates, mostFanIns);
    CutMapper mapper = new CutMapper(gates, mostFanIns, CUTS_FOR_LEVELS);
    if (arrivals.length != mapper.inputs) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cut mapper: an arrival for each of %d inputs is expected, found %d",
              mapper.inputs,
              arrivals.length));
    }
    System.arraycopy(arrivals, 0, mapper.arrivals, 0, arrivals.length);
    mapper.enumerate();
    return gates.outputs().stream().mapToInt(output -> mapper.level(output.signal())).toArray();
  }

  private int level(int signal) {
    return signal < 0 ? 0 : signal < inputs ? arrivals[signal] : best[signal - inputs].level;
  }

  private void enumerate() {
    for (int gate = 0; gate < best.length; gate++) {
      Work.check();
      List<int[]> sets = List.of(new int[0]);
      for (int signal : gates.luts().get(gate).fanIns()) {
        List<int[]> next = new ArrayList<>();
        List<int[]> own = leafSets(signal);
        for (int[] set : sets) {
          for (int[] leaves : own) {
            int[] union = union(set, leaves, mostFanIns);
            if (union != null) {
              next.add(union);
            }
          }
        }
        sets = next.size() > MOST_SETS ? next.subList(0, MOST_SETS) : next;
      }
      List<Cut> own = new ArrayList<>();
      Set<IntBuffer> seen = new HashSet<>();
      for (int[] set : sets) {
        if (seen.add(IntBuffer.wrap(set))) {
          own.add(cut(gate, set));
        }
      }
      own.sort(
          Comparator.<Cut>comparingInt(cut -> cut.level)
              .thenComparingDouble(cut -> cut.flow)
              .thenComparingInt(cut -> cut.leaves.length));
      cuts.add(List.copyOf(own.subList(0, Math.min(cutsKept, own.size()))));
      best[gate] = cuts.get(gate).get(0);
    }
  }

  /** The cuts of a fan-in, itself first. */
  private List<int[]> leafSets(int signal) {
    List<int[]> result = new ArrayList<>();
    result.add(new int[] {signal});
    if (signal >= inputs) {
      cuts.get(signal - inputs).forEach(cut -> result.add(cut.leaves));
    }
    return result;
  }

  /** Merges two ascending sets; null if the union has more signals than a LUT has inputs. */
  private static int[] union(int[] a, int[] b, int most) {
    int[] both = new int[most];
    int size = 0;
    int inA = 0;
    int inB = 0;
    while (inA < a.length || inB < b.length) {
      if (size == most) {
        return null;
      }
      int next = inB == b.length || (inA < a.length && a[inA] < b[inB]) ? a[inA] : b[inB];
      both[size++] = next;
      inA += inA < a.length && a[inA] == next ? 1 : 0;
      inB += inB < b.length && b[inB] == next ? 1 : 0;
    }
    return size == most ? both : Arrays.copyOf(both, size);
  }

  private Cut cut(int gate, int[] leaves) {
    int level = 0;
    double flow = 1;
    for (int leaf : leaves) {
      level = Math.max(level, level(leaf));
      if (leaf >= inputs) {
        flow += best[leaf - inputs].flow;
      }
    }
    return new Cut(leaves, level + 1, flow / Math.max(1, fanOuts[gate]));
  }

  private int levels() {
    return gates.outputs().stream()
        .filter(output -> output.signal() >= inputs)
        .mapToInt(output -> best[output.signal() - inputs].level)
        .max()
        .orElse(0);
  }

  /** Sets the latest level of each gate that the present cover uses. */
  private void require(int levels) {
    Arrays.fill(required, Integer.MAX_VALUE);
    int[] readers = new int[best.length];
    for (LutNetwork.Output output : gates.outputs()) {
      if (output.signal() >= inputs) {
        required[output.signal() - inputs] = levels;
        readers[output.signal() - inputs]++;
      }
    }
    for (int gate = best.length - 1; gate >= 0; gate--) {
      if (required[gate] == Integer.MAX_VALUE) {
        continue;
      }
      for (int leaf : best[gate].leaves) {
        if (leaf >= inputs) {
          required[leaf - inputs] = Math.min(required[leaf - inputs], required[gate] - 1);
          readers[leaf - inputs]++;
        }
      }
    }
    for (int gate = 0; gate < best.length; gate++) {
      fanOuts[gate] = Math.max(1, readers[gate]);
    }
  }

  /** Picks for each gate the cut of least area flow that is early enough. */
  private void recover() {
    for (int gate = 0; gate < best.length; gate++) {
      Cut chosen = null;
      for (Cut old : cuts.get(gate)) {
        Cut now = cut(gate, old.leaves);
        boolean early = now.level <= Math.max(required[gate], 0);
        if (chosen == null
            || (early && (chosen.level > required[gate] || now.flow < chosen.flow))) {
          chosen = now;
        }
      }
      best[gate] = chosen;
    }
  }

  /**
   * Exchanges the cut of each gate of the cover, if it is early enough, for that which adds the
   * fewest LUTs to the rest of the cover, counted by what nothing else reads.
   */
  private void exchange() {
    int[] readers = new int[best.length];
    gates.outputs().forEach(output -> take(output.signal(), readers));
    for (int gate = 0; gate < best.length; gate++) {
      if (readers[gate] == 0) {
        best[gate] = cut(gate, best[gate].leaves);
        continue;
      }
      for (int leaf : best[gate].leaves) {
        leave(leaf, readers);
      }
      Cut chosen = null;
      int least = Integer.MAX_VALUE;
      for (Cut old : cuts.get(gate)) {
        Cut now = cut(gate, old.leaves);
        if (now.level > required[gate]) {
          continue;
        }
        int luts = 0;
        for (int leaf : now.leaves) {
          luts += take(leaf, readers);
        }
        for (int leaf : now.leaves) {
          leave(leaf, readers);
        }
        if (luts < least || (luts == least && now.flow < chosen.flow)) {
          chosen = now;
          least = luts;
        }
      }
      best[gate] = chosen == null ? cut(gate, best[gate].leaves) : chosen;
      for (int leaf : best[gate].leaves) {
        take(leaf, readers);
      }
    }
  }

  /** Counts a reader of a signal and returns the LUTs that the cover now has more. */
  private int take(int signal, int[] readers) {
    if (signal < inputs || readers[signal - inputs]++ > 0) {
      return 0;
    }
    int luts = 1;
    for (int leaf : best[signal - inputs].leaves) {
      luts += take(leaf, readers);
    }
    return luts;
  }

  /** Undoes {@link #take}. */
  private void leave(int signal, int[] readers) {
    if (signal >= inputs && --readers[signal - inputs] == 0) {
      for (int leaf : best[signal - inputs].leaves) {
        leave(leaf, readers);
      }
    }
  }

  private LutNetwork cover() {
    boolean[] used = new boolean[best.length];
    for (LutNetwork.Output output : gates.outputs()) {
      if (output.signal() >= inputs) {
        used[output.signal() - inputs] = true;
      }
    }
    for (int gate = best.length - 1; gate >= 0; gate--) {
      if (used[gate]) {
        for (int leaf : best[gate].leaves) {
          if (leaf >= inputs) {
            used[leaf - inputs] = true;
          }
        }
      }
    }
    LutNetworkBuilder builder = LutNetwork.builder(gates.inputNames());
    int[] signal = new int[best.length];
    for (int gate = 0; gate < best.length; gate++) {
      if (used[gate]) {
        int[] pins =
            Arrays.stream(best[gate].leaves)
                .map(leaf -> leaf < inputs ? leaf : signal[leaf - inputs])
                .toArray();
        signal[gate] = builder.lut(function(gate, best[gate].leaves), pins);
      }
    }
    gates
        .outputs()
        .forEach(
            output ->
                builder.output(
                    output.name(),
                    output.signal() < inputs ? output.signal() : signal[output.signal() - inputs]));
    return builder.build();
  }

  /** Returns a gate as a function of the leaves of a cut. */
  private TruthTable function(int gate, int[] leaves) {
    LutNetworkBuilder cone =
        LutNetwork.builder(Arrays.stream(leaves).mapToObj(leaf -> "s" + leaf).toList());
    int output = copy(inputs + gate, leaves, cone);
    return cone.output("y", output).build().table(0);
  }

  private int copy(int signal, int[] leaves, LutNetworkBuilder cone) {
    int place = Arrays.binarySearch(leaves, signal);
    if (place >= 0) {
      return place;
    }
    LutNetwork.Lut gate = gates.luts().get(signal - inputs);
    int[] pins = gate.fanIns().stream().mapToInt(pin -> copy(pin, leaves, cone)).toArray();
    return cone.lut(gate.table(), pins);
  }
}

package dev.lengthwise.logic.decompose;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/**
 * Builds a network by functional decomposition of several outputs at once.
 *
 * <p>For a bound set of inputs, each value of them gives a column of what all outputs ask over the
 * free inputs. Columns that agree wherever both matter are merged greedily, largest first; the
 * number of classes left is the column multiplicity, and its logarithm the number of code LUTs. A
 * bound input may also stay free (a non-disjoint decomposition), if that lowers the multiplicity.
 */
public final class Decomposer {

  /** A way to part the inputs: masks over input positions, and the class of each bound value. */
  private static final class Part {
    final List<TruthTable> tables;
    final int inputs;
    final double before;
    int bound;
    int shared;
    int codeBits;
    int[] classes = {};
    double score = Double.NEGATIVE_INFINITY;

    /** Starts without a part: of LUTs that the tables take undivided. */
    Part(List<TruthTable> tables, int inputs, double before) {
      this.tables = tables;
      this.inputs = inputs;
      this.before = before;
    }
  }

  /** A decomposition that saves fewer LUTs than this is tried against an annealed cover first. */
  private static final double COVER_BELOW = 2.5;

  /** The bound sets of a size that are tried, at most and of large tables at least. */
  private static final int MOST_SUBSETS = 400;

  private static final int LEAST_SUBSETS = 16;

  /** The points read for the bound sets of a size, about, where they are neither. */
  private static final int WORK_OF_SUBSETS = 1 << 22;

  private final int mostFanIns;
  private final SplittableRandom random;
  private final LutNetworkBuilder builder;
  private final Annealing annealing;
  private final double noise;

  /**
   * How much annealing is tried where no decomposition saves much.
   *
   * @param moves the moves of a try
   * @param tries the tries for each number of LUTs
   * @param random makes all random choices
   */
  public record Annealing(int moves, int tries, SplittableRandom random) {}

  public Decomposer(int mostFanIns, Annealing annealing, LutNetworkBuilder builder, double noise) {
    this.mostFanIns = mostFanIns;
    this.random = annealing.random();
    this.builder = builder;
    this.annealing = annealing;
    this.noise = noise;
  }

  /** Builds the outputs and returns their signals. */
  public int[] build(List<TruthTable> tables, int[] signals) {
    int[] result = new int[tables.size()];
    List<Integer> hard = new ArrayList<>();
    List<TruthTable> hardTables = new ArrayList<>();
    for (int o = 0; o < result.length; o++) {
      TruthTable table = reduced(tables.get(o), signals.length);
      int[] support = support(table);
      if (support.length <= mostFanIns) {
        TruthTable small = restrict(table, support);
        result[o] = builder.lut(TruthTable.of(support.length, small::isOn), pick(signals, support));
      } else {
        hard.add(o);
        hardTables.add(table);
      }
    }
    if (!hard.isEmpty()) {
      int[] made = buildHard(hardTables, signals);
      for (int i = 0; i < made.length; i++) {
        result[hard.get(i)] = made[i];
      }
    }
    return result;
  }

  private int[] buildHard(List<TruthTable> tables, int[] signals) {
    Part joint = best(tables, signals.length);
    int[] alone = new int[tables.size()];
    double sum = 0;
    List<Part> parts = new ArrayList<>();
    for (TruthTable table : tables) {
      Part part = tables.size() == 1 ? joint : best(List.of(table), signals.length);
      parts.add(part);
      sum += Math.max(0, part.score);
    }
    if (tables.size() > 1
        && joint.score > 0
        && joint.score * (1 + noise * random.nextDouble()) >= sum) {
      return apply(joint, tables, signals);
    }
    for (int o = 0; o < alone.length; o++) {
      Part part = parts.get(o);
      TruthTable table = tables.get(o);
      Optional<Integer> cover = part.score < COVER_BELOW ? cover(table, signals) : Optional.empty();
      if (cover.isPresent()) {
        alone[o] = cover.get();
      } else {
        alone[o] =
            part.score > 0 ? apply(part, List.of(table), signals)[0] : expand(table, signals);
      }
    }
    return alone;
  }

  private Optional<Integer> cover(TruthTable table, int[] signals) {
    int[] support = support(table);
    return AnnealedDecomposition.build(
        restrict(table, support), pick(signals, support), mostFanIns, annealing, builder);
  }

  private int expand(TruthTable table, int[] signals) {
    int[] support = support(table);
    return ShannonTree.build(restrict(table, support), pick(signals, support), mostFanIns, builder);
  }

  private Part best(List<TruthTable> tables, int inputs) {
    int support = 0;
    for (TruthTable table : tables) {
      for (int i : support(table)) {
        support |= 1 << i;
      }
    }
    int count = Integer.bitCount(support);
    double before = 0;
    for (TruthTable table : tables) {
      before += ShannonTree.rom(support(table).length, mostFanIns);
    }
    Part best = new Part(tables, inputs, before);
    for (int size = mostFanIns; size >= Math.max(3, mostFanIns - 2); size--) {
      if (size >= count) {
        continue;
      }
      for (int bound : subsets(support, size, mostSubsets(tables, inputs))) {
        Work.check();
        consider(best, bound, 0);
        if (noise > 0 && random.nextInt(3) == 0) {
          int[] bits = bits(bound);
          consider(best, bound, 1 << bits[random.nextInt(bits.length)]);
        }
      }
    }
    return best;
  }

  /** Returns how many bound sets are tried: fewer of large tables, as each takes longer. */
  private static int mostSubsets(List<TruthTable> tables, int inputs) {
    int each = (1 << inputs) * tables.size();
    return Math.min(MOST_SUBSETS, Math.max(LEAST_SUBSETS, WORK_OF_SUBSETS / each));
  }

  private void consider(Part best, int bound, int shared) {
    int[] classes = new Columns(best.tables, best.inputs, bound, shared).classes();
    int most = 0;
    for (int c : classes) {
      most = Math.max(most, c + 1);
    }
    int codeBits = 32 - Integer.numberOfLeadingZeros(most - 1);
    int replaced = Integer.bitCount(bound & ~shared);
    if (codeBits >= replaced) {
      return;
    }
    double after = codeBits;
    for (TruthTable table : best.tables) {
      int own = 0;
      for (int i : support(table)) {
        own |= 1 << i;
      }
      int rest = Integer.bitCount(own & ~(bound & ~shared)) + ((own & bound) != 0 ? codeBits : 0);
      after += Math.max(1, ShannonTree.rom(Math.min(rest, Integer.bitCount(own)), mostFanIns));
    }
    double slack = 1.0 - (double) most / (1 << codeBits);
    double score = best.before - after + 0.5 * slack + noise * random.nextDouble();
    if (best.before - after >= 0 && score > best.score) {
      best.bound = bound;
      best.shared = shared;
      best.codeBits = codeBits;
      best.classes = classes;
      best.score = score;
    }
  }

  private int[] apply(Part part, List<TruthTable> tables, int[] signals) {
    int[] bound = bits(part.bound);
    int[] free = bits((((1 << signals.length) - 1) & ~part.bound) | part.shared);
    int[] codes = shuffledCodes(1 << part.codeBits);
    int[] next = new int[free.length + part.codeBits];
    for (int k = 0; k < free.length; k++) {
      next[k] = signals[free[k]];
    }
    for (int b = 0; b < part.codeBits; b++) {
      int bit = b;
      next[free.length + b] =
          builder.lut(
              TruthTable.of(bound.length, p -> (codes[part.classes[p]] >> bit & 1) != 0),
              pick(signals, bound));
    }
    List<TruthTable> images = new ArrayList<>();
    for (TruthTable table : tables) {
      images.add(image(table, bound, free, codes, part));
    }
    return build(images, next);
  }

  private int[] shuffledCodes(int count) {
    int[] codes = IntStream.range(0, count).toArray();
    for (int i = count - 1; i > 0 && noise > 0; i--) {
      int j = random.nextInt(i + 1);
      int swap = codes[i];
      codes[i] = codes[j];
      codes[j] = swap;
    }
    return codes;
  }

  private static TruthTable image(
      TruthTable table, int[] bound, int[] free, int[] codes, Part part) {
    int inputs = free.length + part.codeBits;
    int words = inputs <= 6 ? 1 : 1 << (inputs - 6);
    long[] on = new long[words];
    long[] care = new long[words];
    for (int point = 0; point < 1 << table.inputs(); point++) {
      if (table.isCare(point)) {
        int index = gather(point, free) | codes[part.classes[gather(point, bound)]] << free.length;
        care[index >> 6] |= 1L << index;
        if (table.isOn(point)) {
          on[index >> 6] |= 1L << index;
        }
      }
    }
    return TruthTable.ofWords(inputs, on, care);
  }

  static int gather(int point, int[] positions) {
    int result = 0;
    for (int k = 0; k < positions.length; k++) {
      result |= (point >> positions[k] & 1) << k;
    }
    return result;
  }

  private List<Integer> subsets(int support, int size, int most) {
    List<Integer> all = new ArrayList<>();
    for (int set = support; set != 0; set = (set - 1) & support) {
      if (Integer.bitCount(set) == size) {
        all.add(set);
      }
    }
    while (all.size() > most) {
      int last = all.size() - 1;
      all.set(random.nextInt(all.size()), all.get(last));
      all.remove(last);
    }
    return all;
  }

  /** Makes a table independent of every input that its don't-cares let it do without. */
  static TruthTable reduced(TruthTable table, int inputs) {
    TruthTable result = table;
    for (int i = inputs - 1; i >= 0; i--) {
      TruthTable old = result;
      int bit = 1 << i;
      boolean needed = false;
      for (int p = 0; p < 1 << inputs && !needed; p++) {
        needed = old.isCare(p) && old.isCare(p ^ bit) && old.isOn(p) != old.isOn(p ^ bit);
      }
      if (!needed) {
        result =
            TruthTable.of(
                inputs,
                p -> old.isOn(p) || old.isOn(p ^ bit),
                p -> old.isCare(p) || old.isCare(p ^ bit));
      }
    }
    return result;
  }

  /** Returns the inputs that two care points show to matter. */
  static int[] support(TruthTable table) {
    return IntStream.range(0, table.inputs())
        .filter(
            i -> {
              for (int p = 0; p < 1 << table.inputs(); p++) {
                int q = p ^ 1 << i;
                if (table.isCare(p) != table.isCare(q)
                    || (table.isCare(p) && table.isOn(p) != table.isOn(q))) {
                  return true;
                }
              }
              return false;
            })
        .toArray();
  }

  private static TruthTable restrict(TruthTable table, int[] support) {
    int[] spread = new int[1 << support.length];
    for (int p = 0; p < spread.length; p++) {
      for (int k = 0; k < support.length; k++) {
        spread[p] |= (p >> k & 1) << support[k];
      }
    }
    return TruthTable.of(support.length, p -> table.isOn(spread[p]), p -> table.isCare(spread[p]));
  }

  private static int[] pick(int[] signals, int[] positions) {
    return Arrays.stream(positions).map(i -> signals[i]).toArray();
  }

  public static int[] bits(int mask) {
    return IntStream.range(0, 32).filter(i -> (mask >>> i & 1) != 0).toArray();
  }
}

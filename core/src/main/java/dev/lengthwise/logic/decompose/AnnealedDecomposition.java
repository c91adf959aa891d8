package dev.lengthwise.logic.decompose;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;

/**
 * Maps one output whose columns are too many for a decomposition, by annealing.
 *
 * <p>The inputs are parted into K bound and at most three free ones. A column is what the function
 * asks, at one value of the bound inputs, over the values of the free ones: a word with
 * don't-cares. Leaf LUTs code the bound inputs; upper LUTs read the free inputs and some code bits,
 * so that each code yields one word. If every column finds a code whose word fits, the leaves can
 * be filled in. Annealing changes one bit of the upper tables at a time; its cost is the number of
 * columns left without a word. For K = 6 and 9 inputs this takes 9 LUTs where the plain ROM takes
 * 11.
 */
final class AnnealedDecomposition {

  private final TruthTable table;
  private final int mostFanIns;
  private final int[] bound;
  private final int[] free;
  private final int codeBits;
  private final int[][] upper;
  private final int[][] upperTables;
  private final long[][] fits;

  /** For each upper LUT and code, the index into its table that its code bits are part of. */
  private final int[][] parts;

  /** For each upper LUT and such a part, the codes that read it. */
  private final int[][][] readers;

  /** The columns that fit each code's word. */
  private final long[][] held;

  private AnnealedDecomposition(
      TruthTable table, int[] bound, int[] free, int codeBits, int[][] upper) {
    this.table = table;
    this.mostFanIns = bound.length;
    this.bound = bound;
    this.free = free;
    this.codeBits = codeBits;
    this.upper = upper;
    this.upperTables = new int[upper.length][];
    for (int i = 0; i < upper.length; i++) {
      upperTables[i] = new int[1 << upper[i].length];
    }
    int columnWords = Math.max(1, 1 << Math.max(0, mostFanIns - 6));
    this.fits = new long[1 << (1 << free.length)][columnWords];
    for (int word = 0; word < fits.length; word++) {
      for (int column = 0; column < 1 << mostFanIns; column++) {
        if (fits(column, word)) {
          fits[word][column >> 6] |= 1L << column;
        }
      }
    }
    this.parts = new int[upper.length][1 << codeBits];
    this.readers = new int[upper.length][][];
    for (int u = 0; u < upper.length; u++) {
      int inner = inner(u);
      for (int code = 0; code < 1 << codeBits; code++) {
        for (int k = inner; k < upper[u].length; k++) {
          parts[u][code] |= (code >> upper[u][k] & 1) << k;
        }
      }
      readers[u] = new int[upperTables[u].length >> inner][];
      for (int part = 0; part < readers[u].length; part++) {
        int own = part << inner;
        int[] all = parts[u];
        readers[u][part] =
            IntStream.range(0, all.length).filter(code -> all[code] == own).toArray();
      }
    }
    this.held = new long[1 << codeBits][];
  }

  /** Returns how many pins of an upper LUT, the first ones, are other upper LUTs. */
  private int inner(int u) {
    return u == upper.length - 1 ? u : 0;
  }

  private int point(int column, int row) {
    int point = 0;
    for (int k = 0; k < bound.length; k++) {
      point |= (column >> k & 1) << bound[k];
    }
    for (int k = 0; k < free.length; k++) {
      point |= (row >> k & 1) << free[k];
    }
    return point;
  }

  private boolean fits(int column, int word) {
    for (int row = 0; row < 1 << free.length; row++) {
      int point = point(column, row);
      if (table.isCare(point) && table.isOn(point) != ((word >> row & 1) != 0)) {
        return false;
      }
    }
    return true;
  }

  /**
   * Tries to build an output as code LUTs and upper LUTs, fewest first.
   *
   * @param table the function, of K + 1 to K + 3 inputs
   * @param signals the signal of each input in the builder
   * @param mostFanIns K, in [5, 8]
   * @param annealing how much is tried
   * @param builder gets the LUTs
   * @return the output's signal, or empty if no try ended with every column covered
   */
  static Optional<Integer> build(
      TruthTable table,
      int[] signals,
      int mostFanIns,
      Decomposer.Annealing annealing,
      LutNetworkBuilder builder) {
    SplittableRandom random = annealing.random();
    int freeCount = table.inputs() - mostFanIns;
    if (freeCount < 1 || freeCount > 3 || mostFanIns - freeCount < 3) {
      return Optional.empty();
    }
    // Below four thirds of the bits asked for, annealing has never met a cover.
    int least = (int) Math.ceil(table.careCount() / (0.75 * (1 << mostFanIns)));
    for (int luts = Math.max(freeCount + 1, least);
        luts < ShannonTree.rom(table.inputs(), mostFanIns);
        luts++) {
      for (int attempt = 0; attempt < annealing.tries(); attempt++) {
        int[] mixed = shuffled(table.inputs(), random);
        int[] free = Arrays.copyOf(mixed, freeCount);
        int[] bound = Arrays.copyOfRange(mixed, freeCount, mixed.length);
        Arrays.sort(free);
        Arrays.sort(bound);
        int pins = mostFanIns - freeCount;
        for (int upperCount = 1; upperCount <= 3 && upperCount < luts; upperCount++) {
          int codeBits = luts - upperCount;
          int[][] upper = wiring(codeBits, upperCount, pins);
          if (codeBits > mostFanIns || upper.length == 0) {
            continue;
          }
          AnnealedDecomposition cover =
              new AnnealedDecomposition(table, bound, free, codeBits, upper);
          if (cover.anneal(annealing.moves(), random)) {
            return Optional.of(cover.emit(signals, builder));
          }
        }
      }
    }
    return Optional.empty();
  }

  /** Spreads the code bits over the upper LUTs; the last one reads the others. */
  private static int[][] wiring(int codeBits, int upperCount, int pins) {
    int[][] result = new int[upperCount][pins];
    int next = 0;
    for (int u = 0; u < upperCount; u++) {
      int inner = u == upperCount - 1 ? u : 0;
      if (inner > pins) {
        return new int[0][];
      }
      for (int k = 0; k < pins; k++) {
        result[u][k] = k < inner ? codeBits + k : next++ % codeBits;
      }
      if (Arrays.stream(result[u]).distinct().count() < pins) {
        return new int[0][];
      }
    }
    return next < codeBits ? new int[0][] : result;
  }

  private static int[] shuffled(int count, SplittableRandom random) {
    int[] result = new int[count];
    for (int i = 0; i < count; i++) {
      int j = random.nextInt(i + 1);
      result[i] = result[j];
      result[j] = i;
    }
    return result;
  }

  /**
   * Returns the word of a code: bit r is the last upper LUT's value in row r. A table holds a word
   * for each index, so pins that are the same in all rows choose words and the others merge them.
   */
  private int word(int code) {
    int last = upper.length - 1;
    int[] table = upperTables[last];
    int at = parts[last][code];
    if (last == 0) {
      return table[at];
    }
    int first = upperTables[0][parts[0][code]];
    int low = merged(first, table[at], table[at + 1]);
    if (last == 1) {
      return low;
    }
    int high = merged(first, table[at + 2], table[at + 3]);
    return merged(upperTables[1][parts[1][code]], low, high);
  }

  private static int merged(int choice, int low, int high) {
    return low ^ (choice & (low ^ high));
  }

  /** Flips bits of a table's word. */
  private void flip(int u, int index, int bits) {
    upperTables[u][index] ^= bits;
    for (int code : readers[u][index >> inner(u)]) {
      held[code] = fits[word(code)];
    }
  }

  private int uncovered() {
    int count = 1 << bound.length;
    for (int w = 0; w < fits[0].length; w++) {
      long covered = 0;
      for (long[] columns : held) {
        covered |= columns[w];
      }
      count -= Long.bitCount(covered);
    }
    return count;
  }

  private boolean anneal(int moves, SplittableRandom random) {
    int wordBits = 1 << free.length;
    for (int[] upperTable : upperTables) {
      for (int i = 0; i < upperTable.length; i++) {
        upperTable[i] = random.nextInt(1 << wordBits);
      }
    }
    for (int code = 0; code < held.length; code++) {
      held[code] = fits[word(code)];
    }
    int cost = uncovered();
    // From hot enough to lose two columns often to cold enough to lose none.
    double hot = 2.0;
    double cold = 0.25;
    for (int move = 0; move < moves && cost > 0; move++) {
      Work.check();
      double temperature = hot * Math.pow(cold / hot, (double) move / moves);
      int u = random.nextInt(upper.length);
      int index = random.nextInt(upperTables[u].length);
      int bits = 1 << random.nextInt(wordBits);
      flip(u, index, bits);
      int next = uncovered();
      if (next <= cost || random.nextDouble() < Math.exp((cost - next) / temperature)) {
        cost = next;
      } else {
        flip(u, index, bits);
      }
    }
    return cost == 0;
  }

  private int emit(int[] signals, LutNetworkBuilder builder) {
    int[] codes = new int[1 << bound.length];
    for (int column = 0; column < codes.length; column++) {
      int code = 0;
      while (!fits(column, word(code))) {
        code++;
      }
      codes[column] = code;
    }
    int[] made = new int[codeBits + upper.length];
    int[] boundSignals = Arrays.stream(bound).map(i -> signals[i]).toArray();
    for (int i = 0; i < codeBits; i++) {
      int bit = i;
      made[i] =
          builder.lut(TruthTable.of(bound.length, p -> (codes[p] >> bit & 1) != 0), boundSignals);
    }
    for (int u = 0; u < upper.length; u++) {
      int pins = upper[u].length;
      int[] own = upperTables[u];
      int[] sources = new int[pins + free.length];
      for (int k = 0; k < pins; k++) {
        sources[k] = made[upper[u][k]];
      }
      for (int k = 0; k < free.length; k++) {
        sources[pins + k] = signals[free[k]];
      }
      made[codeBits + u] =
          builder.lut(
              TruthTable.of(
                  sources.length, p -> (own[p & (1 << pins) - 1] >> (p >> pins) & 1) != 0),
              sources);
    }
    return made[made.length - 1];
  }
}

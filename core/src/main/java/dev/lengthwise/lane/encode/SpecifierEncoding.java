package dev.lengthwise.lane.encode;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.exact.EncodingProblem;
import dev.lengthwise.logic.exact.EncodingSynthesis;
import dev.lengthwise.logic.exact.SourceWords;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;

/**
 * A code of one LUT level for what the operand specifiers of a lane add.
 *
 * <p>Each code bit is one LUT over a few of the bits that matter; the codes are whatever makes that
 * possible. With the modes that the reader of the code knows, a code names an <em>addition</em>:
 * what each specifier of the lane adds.
 *
 * @param inputs the bits read: i in [0, 8) is bit i of the specifier byte, 8 + i bit i of the byte
 *     after it, 16 + i mode i
 * @param fanIns for each code bit the places in {@code inputs} that its LUT reads
 * @param tables the packed table of each LUT
 * @param decoded for each word of late modes and each code the addition's index, or -1 if unused
 * @param additions the distinct additions, each one value a specifier
 */
// Package-internal and never compared, so arrays do.
@SuppressWarnings("ArrayRecordComponent")
record SpecifierEncoding(
    int[] inputs, int[][] fanIns, long[][] tables, int[][] decoded, List<int[]> additions) {

  int bits() {
    return fanIns.length;
  }

  /** Returns a code that is unused whatever the modes, or -1. */
  int spareCode() {
    for (int code = 0; code < 1 << bits(); code++) {
      boolean used = false;
      for (int[] byCode : decoded) {
        used |= byCode[code] >= 0;
      }
      if (!used) {
        return code;
      }
    }
    return -1;
  }

  /** Returns each code bit as a function of all inputs. */
  List<TruthTable> wideTables() {
    List<TruthTable> result = new ArrayList<>();
    for (int b = 0; b < fanIns.length; b++) {
      int[] own = fanIns[b];
      long[] table = tables[b];
      result.add(
          TruthTable.of(
              inputs.length,
              p -> {
                int index = 0;
                for (int k = 0; k < own.length; k++) {
                  index |= (p >> own[k] & 1) << k;
                }
                return (table[index >> 6] >>> index & 1) != 0;
              }));
    }
    return result;
  }

  /**
   * How far a search goes.
   *
   * @param most the codes that are enough
   * @param seed shuffles the wirings
   * @param conflicts the conflicts of the SAT solver for each wiring
   * @param tries the wirings tried for a first code
   * @param further the wirings tried for more codes after the first
   */
  record Limits(int most, long seed, int conflicts, int tries, int further) {}

  /** Searches for codes of a lane's specifiers. */
  static final class Search {

    /** The most wirings that are all looked at. */
    private static final double MOST_WIRINGS = 150_000;

    /** How many partial wirings are kept where there are more. */
    private static final int BEAM = 60;

    /** The wirings that are tried together. */
    private static final int WIRINGS_AT_ONCE = 8;

    private final LaneFunction shape;
    private final int lutInputs;
    private final int lateModes;
    private final List<int[]> additions = new ArrayList<>();
    private int[] inputs;
    private int[] additionAt;
    private int[] mostApart;
    private int[] totalApart;
    private int[] lateWords;
    private long[] mixed;

    /**
     * Prepares a search.
     *
     * @param shape the lane
     * @param lutInputs the inputs of a LUT
     * @param lateModes the modes that the reader knows, as a mask
     */
    Search(LaneFunction shape, int lutInputs, int lateModes) {
      this.shape = shape;
      this.lutInputs = lutInputs;
      this.lateModes = lateModes;
      findInputs();
      tabulate();
    }

    private int[] vector(int point) {
      int[] result = new int[shape.specifiers()];
      for (int s = 0; s < result.length; s++) {
        result[s] = shape.added(s, point & 0xff, point >> 8 & 0xff, point >> 16);
      }
      return result;
    }

    private void findInputs() {
      List<Integer> found = new ArrayList<>();
      int all = 16 + shape.modes().size();
      for (int bit = 0; bit < all; bit++) {
        boolean matters = false;
        for (int point = 0; point < 1 << all && !matters; point++) {
          if ((point >> bit & 1) == 0) {
            for (int s = 0; s < shape.specifiers(); s++) {
              matters |= addedAt(s, point) != addedAt(s, point | 1 << bit);
            }
          }
        }
        if (matters) {
          found.add(bit);
        }
      }
      inputs = found.stream().mapToInt(Integer::intValue).toArray();
    }

    private int addedAt(int specifier, int point) {
      return shape.added(specifier, point & 0xff, point >> 8 & 0xff, point >> 16);
    }

    int[] inputs() {
      return inputs;
    }

    private int spread(int packed) {
      int point = 0;
      for (int i = 0; i < inputs.length; i++) {
        point |= (packed >> i & 1) << inputs[i];
      }
      return point;
    }

    /** Finds the addition at each point and how many a set of inputs leaves mixed up. */
    private void tabulate() {
      Map<String, Integer> known = new HashMap<>();
      additionAt = new int[1 << inputs.length];
      for (int p = 0; p < additionAt.length; p++) {
        int[] vector = vector(spread(p));
        additionAt[p] =
            known.computeIfAbsent(
                Arrays.toString(vector),
                key -> {
                  additions.add(vector);
                  return additions.size() - 1;
                });
      }
      lateWords = new int[additionAt.length];
      Arrays.setAll(lateWords, this::lateWord);
      mixed = new long[additionAt.length * shape.modeWords()];
      mostApart = new int[1 << inputs.length];
      totalApart = new int[1 << inputs.length];
    }

    private int lateWord(int point) {
      int word = 0;
      for (int i = 0; i < inputs.length; i++) {
        if (inputs[i] >= 16 && (lateModes >> (inputs[i] - 16) & 1) != 0) {
          word |= (point >> i & 1) << (inputs[i] - 16);
        }
      }
      return word;
    }

    /** Returns the most additions that a set of inputs leaves mixed up, at least 1. */
    private int mostApart(int set) {
      if (mostApart[set] == 0) {
        measure(set);
      }
      return mostApart[set];
    }

    private int totalApart(int set) {
      mostApart(set);
      return totalApart[set];
    }

    private void measure(int set) {
      int words = shape.modeWords();
      int most = 0;
      int total = 0;
      for (int p = 0; p < additionAt.length; p++) {
        mixed[(p & set) * words + lateWords[p]] |= 1L << additionAt[p];
      }
      for (int p = 0; p < additionAt.length; p++) {
        int key = (p & set) * words + lateWords[p];
        if (mixed[key] != 0) {
          int count = Long.bitCount(mixed[key]);
          most = Math.max(most, count);
          total += count - 1;
          mixed[key] = 0;
        }
      }
      mostApart[set] = most;
      // Scaled to the finest split, so that sets of different sizes compare.
      totalApart[set] = total << (inputs.length - Integer.bitCount(set));
    }

    /**
     * Searches for codes.
     *
     * @param bits the number of code bits
     * @param spare whether one code must be unused in all modes
     * @param limits how far the search goes
     */
    List<SpecifierEncoding> find(int bits, boolean spare, Limits limits) {
      List<Integer> sets = new ArrayList<>();
      int width = Math.min(lutInputs, inputs.length);
      for (int set = 0; set < mostApart.length; set++) {
        if (Integer.bitCount(set) == width && mostApart(set) <= 1 << (bits - 1)) {
          sets.add(set);
        }
      }
      sets.sort(java.util.Comparator.comparingInt(this::totalApart));
      List<int[]> wirings = new ArrayList<>();
      if (choose(sets.size() + bits - 1, bits) <= MOST_WIRINGS) {
        collect(sets, new int[bits], 0, 0, wirings);
      } else {
        wirings.addAll(beam(sets, bits));
      }
      java.util.Collections.shuffle(wirings, new Random(limits.seed()));
      wirings.sort(java.util.Comparator.comparingInt(this::mixedSum));
      EncodingProblem problem = problem(bits, spare);
      SourceWords words = new SourceWords(problem);
      List<SpecifierEncoding> found = new ArrayList<>();
      int last = Math.min(limits.tries(), wirings.size());
      boolean first = true;
      // A few at a time on all cores; the first in their order count, so threads do not.
      for (int from = 0; from < last && found.size() < limits.most(); from += WIRINGS_AT_ONCE) {
        wirings.subList(from, Math.min(last, from + WIRINGS_AT_ONCE)).parallelStream()
            .map(wiring -> code(wiring, problem, words, limits.conflicts()))
            .flatMap(Optional::stream)
            .toList()
            .forEach(found::add);
        if (first && !found.isEmpty()) {
          first = false;
          last = Math.min(last, from + WIRINGS_AT_ONCE + limits.further());
        }
      }
      return found.subList(0, Math.min(limits.most(), found.size()));
    }

    private Optional<SpecifierEncoding> code(
        int[] wiring, EncodingProblem problem, SourceWords words, int conflicts) {
      int[][] fanIns = Arrays.stream(wiring).mapToObj(Search::members).toArray(int[][]::new);
      int[] outputs = new int[wiring.length];
      Arrays.setAll(outputs, i -> inputs.length + i);
      Wiring topology = new Wiring(inputs.length, fanIns, outputs);
      return new EncodingSynthesis(topology, problem, words, EncodingSynthesis.Link.NONE)
          .solve(conflicts)
          .solution()
          .map(solution -> decode(fanIns, solution));
    }

    /** Returns the fewest bits that tell all additions apart. */
    int leastBits() {
      return Integer.SIZE - Integer.numberOfLeadingZeros(mostApart(0) - 1);
    }

    /** Returns the code that numbers the additions, each bit a function of all inputs. */
    SpecifierEncoding wide() {
      // One code more than there are additions, so that one is spare.
      int bits = Integer.SIZE - Integer.numberOfLeadingZeros(additions.size());
      int[] all = members((1 << inputs.length) - 1);
      int[][] fanIns = new int[bits][];
      long[][] tables = new long[bits][Math.max(1, additionAt.length >> 6)];
      for (int b = 0; b < bits; b++) {
        fanIns[b] = all;
        for (int p = 0; p < additionAt.length; p++) {
          tables[b][p >> 6] |= (long) (additionAt[p] >> b & 1) << p;
        }
      }
      return decode(fanIns, new EncodingSynthesis.Solution(tables, new BitSet[0]));
    }

    /** Collects wirings set by set, keeping those that leave least mixed up. */
    private List<int[]> beam(List<Integer> sets, int bits) {
      List<int[]> kept = List.of(new int[bits]);
      for (int depth = 0; depth < bits; depth++) {
        Map<String, int[]> next = new LinkedHashMap<>();
        IdentityHashMap<int[], Integer> score = new IdentityHashMap<>();
        for (int[] partial : kept) {
          Work.check();
          for (int set : sets) {
            int[] chosen = partial.clone();
            chosen[depth] = set;
            if (isPossible(chosen, depth + 1)) {
              int[] sorted = Arrays.copyOf(chosen, depth + 1);
              Arrays.sort(sorted);
              if (next.putIfAbsent(Arrays.toString(sorted), chosen) == null) {
                score.put(chosen, mixedSum(sorted));
              }
            }
          }
        }
        kept = new ArrayList<>(next.values());
        kept.sort(java.util.Comparator.comparingInt(score::get));
        kept = kept.subList(0, Math.min(kept.size(), BEAM));
      }
      return kept;
    }

    private static double choose(int n, int k) {
      double result = 1;
      for (int i = 0; i < k; i++) {
        result = result * (n - i) / (i + 1);
      }
      return result;
    }

    private void collect(List<Integer> sets, int[] chosen, int depth, int from, List<int[]> into) {
      Work.check();
      if (depth == chosen.length) {
        into.add(chosen.clone());
        return;
      }
      for (int i = from; i < sets.size(); i++) {
        chosen[depth] = sets.get(i);
        if (isPossible(chosen, depth + 1)) {
          collect(sets, chosen, depth + 1, i, into);
        }
      }
    }

    /** Tests that what the chosen LUTs leave mixed up can be told apart by the other bits. */
    private boolean isPossible(int[] chosen, int count) {
      int last = count - 1;
      for (int subset = 0; subset < 1 << last; subset++) {
        int union = chosen[last];
        for (int i = 0; i < last; i++) {
          union |= (subset >> i & 1) != 0 ? chosen[i] : 0;
        }
        if (mostApart(union) > 1 << (chosen.length - 1 - Integer.bitCount(subset))) {
          return false;
        }
      }
      return true;
    }

    /** Returns how much the LUTs of a wiring leave mixed up: less is more likely to work. */
    private int mixedSum(int[] wiring) {
      int sum = 0;
      for (int subset = 1; subset < 1 << wiring.length; subset++) {
        int union = 0;
        for (int i = 0; i < wiring.length; i++) {
          union |= (subset >> i & 1) != 0 ? wiring[i] : 0;
        }
        sum += totalApart(union);
      }
      return sum;
    }

    private static int[] members(int set) {
      int[] result = new int[Integer.bitCount(set)];
      int n = 0;
      for (int i = 0; set >> i != 0; i++) {
        if ((set >> i & 1) != 0) {
          result[n++] = i;
        }
      }
      return result;
    }

    private EncodingProblem problem(int bits, boolean spare) {
      EncodingProblem.Rows rows = new EncodingProblem.Rows(inputs.length, bits);
      int count = additions.size();
      for (int p = 0; p < additionAt.length; p++) {
        rows.add(p, lateWord(p) * count + additionAt[p]);
      }
      int[] groups = new int[shape.modeWords() * count];
      Arrays.setAll(groups, c -> c / count);
      BitSet all = EncodingProblem.allCodes(bits);
      all.set((1 << bits) - 1, !spare);
      BitSet[] permitted = new BitSet[groups.length];
      Arrays.fill(permitted, all);
      return rows.problem(groups, permitted);
    }

    private SpecifierEncoding decode(int[][] fanIns, EncodingSynthesis.Solution solution) {
      int bits = fanIns.length;
      int[][] decoded = new int[shape.modeWords()][1 << bits];
      Arrays.stream(decoded).forEach(row -> Arrays.fill(row, -1));
      for (int p = 0; p < additionAt.length; p++) {
        int code = 0;
        for (int b = 0; b < bits; b++) {
          int index = 0;
          for (int k = 0; k < fanIns[b].length; k++) {
            index |= (p >> fanIns[b][k] & 1) << k;
          }
          code |= (int) (solution.tables()[b][index >> 6] >>> index & 1) << b;
        }
        decoded[lateWord(p)][code] = additionAt[p];
      }
      for (int word = 0; word < decoded.length; word++) {
        // Modes that matter to no specifier do not split the decoding.
        int same = word & lateInputModes();
        decoded[word] = decoded[same];
      }
      return new SpecifierEncoding(inputs, fanIns, solution.tables(), decoded, additions);
    }

    private int lateInputModes() {
      int mask = 0;
      for (int input : inputs) {
        mask |= input >= 16 ? 1 << (input - 16) & lateModes : 0;
      }
      return mask;
    }
  }
}

package dev.lengthwise.lane.encode;

import dev.lengthwise.logic.exact.ColumnChart;
import dev.lengthwise.logic.exact.EncodingProblem;
import dev.lengthwise.logic.exact.EncodingSynthesis;
import dev.lengthwise.logic.exact.SourceWords;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.sat.Sat;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;

/**
 * The block that reads one map's byte and says the map's role and length bits.
 *
 * <p>Its sources are the 8 bits of the byte, then, if the block <em>merges</em>, for each map
 * escaped to that map's length bits, which pass through where the escape is taken and must not
 * disturb elsewhere, then the modes. Its outputs are the role bits, then the length bits. A block
 * with many escapes does not merge; its length bits are joined with theirs by LUTs behind it.
 */
final class MapEncoder {

  /** The most length bits of maps escaped to that a block merges itself. */
  private static final int MOST_MERGED = 4;

  private final LengthEncoding codes;
  private final int map;
  private final int lengthBits;
  private final int roleBits;
  private final int[] escapes;
  private final boolean readsSpecifier;
  private final boolean merges;
  private boolean numbered;
  private final EncodingProblem problem;
  private final SourceWords words;
  private final boolean[] modeMatters;

  MapEncoder(LengthEncoding codes, int map, int lengthBits, boolean mayMerge) {
    this.codes = codes;
    this.map = map;
    this.lengthBits = lengthBits;
    OpcodeClasses classes = codes.map(map);
    this.escapes = classes.escapes();
    this.readsSpecifier = classes.readsSpecifier();
    this.merges = mayMerge && escapes.length > 0 && escapes.length * lengthBits <= MOST_MERGED;
    this.roleBits = codes.roleBits(map);
    this.modeMatters = new boolean[codes.shape().modes().size()];
    for (int code = 0; code < 256; code++) {
      for (int word = 0; word < codes.shape().modeWords(); word++) {
        for (int m = 0; m < modeMatters.length; m++) {
          modeMatters[m] |= classes.classOf(code, word) != classes.classOf(code, word ^ 1 << m);
        }
      }
    }
    this.problem = problem(classes);
    this.words = new SourceWords(problem);
  }

  int firstPlainRole() {
    return (readsSpecifier ? 1 : 0) + escapes.length;
  }

  /** Returns the number of roles, those that no code has excepted where codes are numbered. */
  int usedRoles() {
    return numbered ? Math.min(1 << roleBits, firstPlainRole() + 1) : 1 << roleBits;
  }

  int roleBits() {
    return roleBits;
  }

  int lengthBits() {
    return lengthBits;
  }

  int[] escapes() {
    return escapes;
  }

  boolean readsSpecifier() {
    return readsSpecifier;
  }

  int sources() {
    return problem.sources();
  }

  /** Returns the source of a length bit of the i-th map escaped to. */
  int escapeSource(int i, int bit) {
    return 8 + i * lengthBits + bit;
  }

  boolean merges() {
    return merges;
  }

  private int mergedBits() {
    return merges ? escapes.length * lengthBits : 0;
  }

  int modes() {
    return modeMatters.length;
  }

  int modeSource(int mode) {
    return 8 + mergedBits() + mode;
  }

  boolean modeMatters(int mode) {
    return modeMatters[mode];
  }

  private EncodingProblem problem(OpcodeClasses classes) {
    int kinds = codes.families().size() + codes.lengths().size();
    int modes = codes.shape().modes().size();
    int inner = mergedBits();
    EncodingProblem.Rows rows = new EncodingProblem.Rows(8 + inner + modes, roleBits + lengthBits);
    for (int value = 0; value < 256; value++) {
      for (int word = 0; word < codes.shape().modeWords(); word++) {
        int c = classes.classOf(value, word);
        if (c < 0 || !isFirstOfWord(word)) {
          continue;
        }
        for (int free = 0; free < 1 << inner; free++) {
          int kind = codes.kind(map, c);
          if (kind < 0) {
            int escape = classes.classes().get(c).byModes().get(word).escape();
            int i = Arrays.binarySearch(escapes, escape);
            int passed = merges ? free >> i * lengthBits & (1 << lengthBits) - 1 : 0;
            kind = kinds + (i << lengthBits) + passed;
          }
          rows.add(value | free << 8 | word << (8 + inner), kind);
        }
      }
    }
    int count = kinds + (escapes.length << lengthBits);
    int[] groups = new int[count];
    Arrays.setAll(groups, i -> i);
    BitSet[] permitted = new BitSet[count];
    Arrays.fill(permitted, EncodingProblem.allCodes(roleBits + lengthBits));
    for (int i = 0; i < escapes.length; i++) {
      for (int l = 0; l < 1 << lengthBits; l++) {
        BitSet one = new BitSet();
        int role = (readsSpecifier ? 1 : 0) + i;
        for (int any = 0; any < 1 << lengthBits; any++) {
          one.set(role + (any << roleBits), !merges || any == l);
        }
        permitted[kinds + (i << lengthBits) + l] = one;
      }
    }
    return rows.problem(groups, permitted);
  }

  private boolean isFirstOfWord(int word) {
    for (int m = 0; m < modeMatters.length; m++) {
      if (!modeMatters[m] && (word >> m & 1) != 0) {
        return false;
      }
    }
    return true;
  }

  /** Tables of a wiring, and what the link says with them. */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  record Solved(Wiring topology, long[][] tables, EncodingConstraints link, int[] constants) {}

  /** The end of one attempt. */
  record Attempt(Sat.Verdict verdict, Optional<Solved> solved) {}

  ColumnChart columns(int[] boundSet) {
    return new ColumnChart(problem, boundSet);
  }

  /** Tries a wiring. */
  Attempt attempt(MapEncoderWiring.Drawn drawn, EncodingConstraints fixed, int conflicts) {
    EncodingConstraints link = fixed.copy();
    link.select(map, roleBits, firstPlainRole());
    Wiring topology = drawn.topology();
    Optional<ColumnChart> reduced = drawn.alone();
    EncodingSynthesis.Result result =
        reduced
            .map(c -> new EncodingSynthesis(topology, c.reduced(), c.words(), link))
            .orElseGet(() -> new EncodingSynthesis(topology, problem, words, link, drawn.tied()))
            .solve(conflicts);
    if (result.solution().isEmpty()) {
      return new Attempt(result.verdict(), Optional.empty());
    }
    long[][] tables = result.solution().get().tables();
    for (int i = 0; i < drawn.plan().classLuts() && reduced.isPresent(); i++) {
      tables[i] = reduced.get().spread(tables[i]);
    }
    int[] constants = link.constants();
    claim(topology, tables, link, constants);
    return new Attempt(
        result.verdict(), Optional.of(new Solved(topology, tables, link, constants)));
  }

  /**
   * Returns the block for codes that are numbered, each output one wide LUT of a block's sources.
   */
  Solved numbered(Wiring wide, EncodingConstraints link, int plainSelect) {
    numbered = true;
    int families = codes.families().size();
    int lengths = codes.lengths().size();
    int[] fanIns = wide.fanIns()[0];
    long[][] tables = new long[roleBits + lengthBits][Math.max(1, 1 << fanIns.length >> 6)];
    for (int row = 0; row < problem.rows(); row++) {
      int kind = problem.classes()[row];
      int code;
      if (kind < families) {
        code = link.familyCode(kind) << roleBits;
      } else if (kind < families + lengths) {
        code = firstPlainRole() | (kind - families) << roleBits;
      } else {
        code = problem.permitted()[kind].nextSetBit(0);
      }
      int index = 0;
      for (int k = 0; k < fanIns.length; k++) {
        index |= (problem.points()[row] >> fanIns[k] & 1) << k;
      }
      for (int o = 0; o < tables.length; o++) {
        tables[o][index >> 6] |= (long) (code >> o & 1) << index;
      }
    }
    int[] constants = new int[Math.max(0, (1 << roleBits) - firstPlainRole())];
    Arrays.fill(constants, plainSelect);
    return new Solved(wide, tables, link, constants);
  }

  private void claim(Wiring topology, long[][] tables, EncodingConstraints link, int[] constants) {
    long[][] out = words.evaluate(topology, tables);
    int families = codes.families().size();
    for (int row = 0; row < problem.rows(); row++) {
      int kind = problem.classes()[row];
      if (kind >= families && kind < families + codes.lengths().size()) {
        int code = 0;
        for (int o = 0; o < out.length; o++) {
          code |= (int) (out[o][row >> 6] >>> row & 1) << o;
        }
        int role = code & (1 << roleBits) - 1;
        link.claim(kind, constants[role - firstPlainRole()], code >> roleBits);
      }
    }
  }

  /** Returns the tables of the outputs over all sources; points of no row are don't-cares. */
  List<TruthTable> tables(Wiring topology, long[][] tables) {
    long[][] out = words.evaluate(topology, tables);
    int n = problem.sources();
    int size = Math.max(1, 1 << n >> 6);
    long[] care = new long[size];
    long[][] on = new long[out.length][size];
    for (int row = 0; row < problem.rows(); row++) {
      int point = problem.points()[row];
      for (int word = 0; word < codes.shape().modeWords(); word++) {
        int same = point | (word & ~matteringModes()) << modeSource(0);
        care[same >> 6] |= 1L << same;
        for (int o = 0; o < out.length; o++) {
          on[o][same >> 6] |= (out[o][row >> 6] >>> row & 1) << same;
        }
      }
    }
    return Arrays.stream(on).map(o -> TruthTable.ofWords(n, o, care)).toList();
  }

  private int matteringModes() {
    int mask = 0;
    for (int m = 0; m < modeMatters.length; m++) {
      mask |= modeMatters[m] ? 1 << m : 0;
    }
    return mask;
  }

  /** Returns the subsets of [0, n) of a size. */
  static List<int[]> subsets(int n, int size) {
    List<int[]> result = new ArrayList<>();
    for (int set = 0; set < 1 << n; set++) {
      if (Integer.bitCount(set) == size) {
        int[] members = new int[size];
        int k = 0;
        for (int i = 0; i < n; i++) {
          if ((set >> i & 1) != 0) {
            members[k++] = i;
          }
        }
        result.add(members);
      }
    }
    return result;
  }
}

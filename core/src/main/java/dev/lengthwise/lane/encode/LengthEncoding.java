package dev.lengthwise.lane.encode;

import dev.lengthwise.lane.function.LaneFunction;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The final code of a lane: select bits s and length bits l, from which and the late modes the
 * length is read.
 *
 * <p>Where an operand specifier follows, s is its code and l names the <em>family</em>: the base,
 * and which specifier it is, in each mode. Where none follows, s is free to carry length as well:
 * any (s, l) will do that no family claims for another length. This object says what there is to
 * code; {@link EncodingConstraints} chooses.
 */
final class LengthEncoding {

  /**
   * Rows that read an operand specifier alike; entries are -1 in mode words not covered.
   *
   * @param bases the base in each mode word
   * @param specifiers the specifier in each mode word
   */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  record Family(int[] bases, int[] specifiers) {}

  private final LaneFunction shape;
  private final int lateModes;
  private final SpecifierEncoding code;
  private final List<OpcodeClasses> maps = new ArrayList<>();
  private final List<Family> families = new ArrayList<>();
  private final List<int[]> lengths = new ArrayList<>();
  private final List<int[]> kinds = new ArrayList<>();

  LengthEncoding(LaneFunction shape, int lateModes, SpecifierEncoding code) {
    this.shape = shape;
    this.lateModes = lateModes;
    this.code = code;
    for (LaneFunction.CodeMap map : shape.codedMaps()) {
      OpcodeClasses classes = OpcodeClasses.of(shape, map, lateModes);
      maps.add(classes);
      int[] kind = new int[classes.classes().size()];
      for (int c = 0; c < kind.length; c++) {
        kind[c] = classify(classes.classes().get(c));
      }
      kinds.add(kind);
    }
    // Lengths are numbered after the families, which are all known now.
    for (int[] kind : kinds) {
      for (int c = 0; c < kind.length; c++) {
        kind[c] = kind[c] >= 0 ? kind[c] : kind[c] == NO_KIND ? -1 : families.size() - 2 - kind[c];
      }
    }
  }

  private static final int NO_KIND = -1;

  /** Returns the family, or -2 minus the length's index, or -1 for an escape. */
  private int classify(OpcodeClasses.MapClass mapClass) {
    int words = shape.modeWords();
    int[] bases = new int[words];
    int[] specifiers = new int[words];
    Arrays.fill(bases, -1);
    Arrays.fill(specifiers, -1);
    boolean reads = false;
    for (int word = 0; word < words; word++) {
      if (mapClass.covers(word)) {
        OpcodeClasses.Behaviour behaviour = mapClass.byModes().get(word);
        if (behaviour.escape() >= 0) {
          return NO_KIND;
        }
        int late = word & lateModes;
        bases[late] = behaviour.base();
        specifiers[late] = behaviour.specifier();
        reads |= behaviour.specifier() >= 0;
      }
    }
    if (reads) {
      return merge(new Family(bases, specifiers));
    }
    for (int word = 0; word < words; word++) {
      bases[word] = bases[word] < 0 ? -1 : shape.sum(bases[word], 0);
    }
    for (int v = 0; v < lengths.size(); v++) {
      if (Arrays.equals(lengths.get(v), bases)) {
        return -2 - v;
      }
    }
    lengths.add(bases);
    return -1 - lengths.size();
  }

  private int merge(Family family) {
    for (int f = 0; f < families.size(); f++) {
      Family other = families.get(f);
      boolean fits = true;
      for (int word = 0; word < family.bases().length; word++) {
        fits &=
            family.bases()[word] < 0
                || other.bases()[word] < 0
                || family.bases()[word] == other.bases()[word]
                    && family.specifiers()[word] == other.specifiers()[word];
      }
      if (fits) {
        for (int word = 0; word < family.bases().length; word++) {
          if (family.bases()[word] >= 0) {
            other.bases()[word] = family.bases()[word];
            other.specifiers()[word] = family.specifiers()[word];
          }
        }
        return f;
      }
    }
    families.add(family);
    return families.size() - 1;
  }

  LaneFunction shape() {
    return shape;
  }

  int lateModes() {
    return lateModes;
  }

  SpecifierEncoding code() {
    return code;
  }

  int selectBits() {
    return code == null ? 0 : code.bits();
  }

  OpcodeClasses map(int map) {
    return maps.get(map);
  }

  List<Family> families() {
    return families;
  }

  /** Returns the lengths without specifier, each one value a mode word, -1 where not covered. */
  List<int[]> lengths() {
    return lengths;
  }

  /** Returns a class's family, or {@code families} plus its length's index, or -1: an escape. */
  int kind(int map, int mapClass) {
    return kinds.get(map)[mapClass];
  }

  /** Returns the length of a family with a specifier code, or -1 if that cannot be. */
  int familyLength(int family, int word, int select) {
    int addition = code.decoded()[word & lateModes][select];
    Family own = families.get(family);
    if (addition < 0 || own.bases()[word] < 0) {
      return -1;
    }
    int added =
        own.specifiers()[word] < 0 ? 0 : code.additions().get(addition)[own.specifiers()[word]];
    return shape.sum(own.bases()[word], added);
  }

  /** Returns a lower bound of the length bits: one code a family, and room for every length. */
  int leastLengthBits() {
    int most = families.size();
    for (int word = 0; word < shape.modeWords(); word++) {
      long seen = 0;
      for (int[] length : lengths) {
        seen |= length[word] >= 0 ? 1L << length[word] : 0;
      }
      most = Math.max(most, Long.bitCount(seen) + (1 << selectBits()) - 1 >> selectBits());
    }
    // Lengths that differ in any mode need codes of their own.
    List<int[]> distinct = new ArrayList<>();
    for (int[] length : lengths) {
      if (distinct.stream().allMatch(other -> differ(other, length))) {
        distinct.add(length);
      }
    }
    most = Math.max(most, distinct.size() + (1 << selectBits()) - 1 >> selectBits());
    return Integer.SIZE - Integer.numberOfLeadingZeros(Math.max(1, most) - 1);
  }

  /** Tells whether two lengths differ in a mode word that both cover. */
  static boolean differ(int[] a, int[] b) {
    for (int word = 0; word < a.length; word++) {
      if (a[word] >= 0 && b[word] >= 0 && a[word] != b[word]) {
        return true;
      }
    }
    return false;
  }

  /** Returns the first role of a map that stands for neither its specifier nor an escape. */
  int firstPlainRole(int map) {
    return (maps.get(map).readsSpecifier() ? 1 : 0) + maps.get(map).escapes().length;
  }

  /** Returns the role bits of a map: its specifier, its escapes, and the rest if there is any. */
  int roleBits(int map) {
    boolean plain = false;
    for (int kind : kinds.get(map)) {
      plain |= kind >= families.size();
    }
    int roles = firstPlainRole(map) + (plain ? 1 : 0);
    return Integer.SIZE - Integer.numberOfLeadingZeros(roles - 1);
  }
}

package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Contents;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The addresses of each word of a table as few bit patterns.
 *
 * <p>Patterns of a table are disjoint, so that their order in a case statement means nothing.
 * Halves of the table are joined bit by bit, from the lowest address bit up, where they hold the
 * same pattern; what is left is joined pair by pair.
 */
final class AddressPatterns {

  /**
   * Addresses that agree in some bits.
   *
   * @param care the bits that count
   * @param value what they are; 0 where they do not count
   */
  record Pattern(int care, int value) {

    private static final Pattern ANY = new Pattern(0, 0);

    private Pattern with(int bit, int one) {
      return new Pattern(care | 1 << bit, value | one << bit);
    }

    private Pattern without(int bit) {
      return new Pattern(care & ~(1 << bit), value & ~(1 << bit));
    }

    private Pattern other(int bit) {
      return new Pattern(care, value ^ 1 << bit);
    }

    /** Returns the pattern as a constant of a {@code casez} statement, in groups of four bits. */
    String text(int bits) {
      StringBuilder text = new StringBuilder().append(bits).append("'b");
      for (int bit = bits - 1; bit >= 0; bit--) {
        text.append((care >> bit & 1) == 0 ? '?' : (char) ('0' + (value >> bit & 1)));
        if (bit > 0 && bit % 4 == 0) {
          text.append('_');
        }
      }
      return text.toString();
    }
  }

  private final Contents contents;

  private AddressPatterns(Contents contents) {
    this.contents = contents;
  }

  /** Returns the patterns of each word, words as unsigned numbers ascending. */
  static SortedMap<Long, List<Pattern>> of(Contents contents) {
    AddressPatterns patterns = new AddressPatterns(contents);
    SortedMap<Long, List<Pattern>> result = new TreeMap<>(Long::compareUnsigned);
    patterns
        .half(contents.addressBits(), 0)
        .forEach((word, some) -> result.put(word, joined(some, contents.addressBits())));
    return result;
  }

  /** Returns the patterns of the 2^bits addresses from one on, in their lower bits. */
  private Map<Long, Set<Pattern>> half(int bits, int from) {
    Map<Long, Set<Pattern>> result = new LinkedHashMap<>();
    if (bits == 0) {
      result.put(contents.word(from), Set.of(Pattern.ANY));
      return result;
    }
    int bit = bits - 1;
    Map<Long, Set<Pattern>> zero = half(bit, from);
    Map<Long, Set<Pattern>> one = half(bit, from + (1 << bit));
    zero.forEach(
        (word, some) ->
            add(patternsOf(word, result), some, one.getOrDefault(word, Set.of()), bit, 0));
    one.forEach(
        (word, some) ->
            add(patternsOf(word, result), some, zero.getOrDefault(word, Set.of()), bit, 1));
    return result;
  }

  private static Set<Pattern> patternsOf(long word, Map<Long, Set<Pattern>> patterns) {
    return patterns.computeIfAbsent(word, w -> new LinkedHashSet<>());
  }

  private static void add(
      Set<Pattern> patterns, Set<Pattern> some, Set<Pattern> others, int bit, int value) {
    for (Pattern pattern : some) {
      patterns.add(others.contains(pattern) ? pattern : pattern.with(bit, value));
    }
  }

  /** Joins pairs that differ in one bit, until none does; the lowest address comes first. */
  private static List<Pattern> joined(Set<Pattern> patterns, int bits) {
    Set<Pattern> all = new LinkedHashSet<>(patterns);
    boolean again = true;
    while (again) {
      again = false;
      for (Pattern pattern : List.copyOf(all)) {
        for (int bit = 0; bit < bits && all.contains(pattern); bit++) {
          Pattern other = pattern.other(bit);
          if ((pattern.care() >> bit & 1) == 1 && all.remove(other)) {
            all.remove(pattern);
            all.add(pattern.without(bit));
            again = true;
          }
        }
      }
    }
    List<Pattern> sorted = new ArrayList<>(all);
    sorted.sort(Comparator.comparingInt(Pattern::value).thenComparingInt(Pattern::care));
    return sorted;
  }
}

package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Contents;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
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
 * <p>Patterns of a table are disjoint, so that their order means nothing. Halves of the table are
 * joined bit by bit, from the lowest address bit up, where they hold the same pattern; what is left
 * is joined pair by pair. Equal parts of the table are looked at once, so that a table of 65,536
 * words that follows patterns takes no longer than what it says.
 */
public final class AddressPatterns {

  /**
   * Addresses that agree in some bits.
   *
   * @param care the bits that count
   * @param value what they are; 0 where they do not count
   */
  public record Pattern(int care, int value) {

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

    /**
     * Returns the digit of a bit.
     *
     * @param bit the bit
     * @param any what stands for a bit that does not count
     * @return {@code 0}, {@code 1} or {@code any}
     */
    public char digit(int bit, char any) {
      return (care >> bit & 1) == 0 ? any : (char) ('0' + (value >> bit & 1));
    }
  }

  private final SortedMap<Long, List<Pattern>> patterns = new TreeMap<>(Long::compareUnsigned);

  private AddressPatterns(Contents contents) {
    Halves halves = new Halves(contents);
    halves
        .of(contents.addressBits(), 0)
        .forEach((word, some) -> patterns.put(word, joined(some, contents.addressBits())));
  }

  /**
   * Returns the patterns of a table.
   *
   * @param contents the table
   * @return the patterns
   */
  public static AddressPatterns of(Contents contents) {
    return new AddressPatterns(contents);
  }

  /**
   * Returns the patterns of each word.
   *
   * @return by word, as unsigned numbers ascending
   */
  public SortedMap<Long, List<Pattern>> byWord() {
    return patterns;
  }

  /**
   * Returns the word that would take the most patterns: what is left where no other word is.
   *
   * @return the lowest of such words
   */
  public long rest() {
    long most = patterns.firstKey();
    for (Map.Entry<Long, List<Pattern>> entry : patterns.entrySet()) {
      if (entry.getValue().size() > patterns.get(most).size()) {
        most = entry.getKey();
      }
    }
    return most;
  }

  /**
   * Returns how many patterns are written where the {@link #rest} has none.
   *
   * @return at least 0
   */
  public int count() {
    int all = patterns.values().stream().mapToInt(List::size).sum();
    return all - patterns.get(rest()).size();
  }

  /** The patterns of parts of a table; equal parts have one number. */
  private static final class Halves {

    private final Contents contents;

    /** By address bits, the number of each part. */
    private final List<int[]> numbers = new ArrayList<>();

    private final List<Map<Integer, Map<Long, Set<Pattern>>>> known = new ArrayList<>();

    Halves(Contents contents) {
      this.contents = contents;
      Map<Long, Integer> words = new HashMap<>();
      int[] level = new int[1 << contents.addressBits()];
      for (int address = 0; address < level.length; address++) {
        level[address] = words.computeIfAbsent(contents.word(address), word -> words.size());
      }
      numbers.add(level);
      known.add(new HashMap<>());
      for (int bits = 1; bits <= contents.addressBits(); bits++) {
        Map<Long, Integer> pairs = new HashMap<>();
        int[] below = level;
        level = new int[below.length / 2];
        for (int part = 0; part < level.length; part++) {
          long pair = (long) below[2 * part] << Integer.SIZE | below[2 * part + 1];
          level[part] = pairs.computeIfAbsent(pair, p -> pairs.size());
        }
        numbers.add(level);
        known.add(new HashMap<>());
      }
    }

    /** Returns the patterns of a part of 2^bits addresses, in their lower bits. */
    Map<Long, Set<Pattern>> of(int bits, int part) {
      Map<Integer, Map<Long, Set<Pattern>>> own = known.get(bits);
      int number = numbers.get(bits)[part];
      Map<Long, Set<Pattern>> found = own.get(number);
      if (found == null) {
        found = bits == 0 ? Map.of(contents.word(part), Set.of(Pattern.ANY)) : both(bits - 1, part);
        own.put(number, found);
      }
      return found;
    }

    private Map<Long, Set<Pattern>> both(int bit, int part) {
      Map<Long, Set<Pattern>> result = new LinkedHashMap<>();
      Map<Long, Set<Pattern>> zero = of(bit, 2 * part);
      Map<Long, Set<Pattern>> one = of(bit, 2 * part + 1);
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

package dev.lengthwise.lane.function;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.IntStream;

/**
 * The function of a lane as a composition of multi-valued blocks: what a lane mapper maps.
 *
 * <p>Decoding starts at map 0, which is keyed by byte 0. The outcome of a code is a number of
 * bytes, to which an operand specifier may add, or a further map keyed by a later byte, or
 * anything. The lane's length is 0, for "not handled", if the outcome says so, if the specifier is
 * not decided by the bytes seen, or if the sum is more than {@code most}.
 *
 * <p>Immutable. Bytes are numbered from the lane's own byte, 0; mode i is bit i of a mode word.
 */
public final class LaneFunction {

  /** The answer of {@link #length} where the lane may say anything. */
  public static final int ANYTHING = -1;

  /** The answer of a {@link Growth} that the bytes seen do not decide. */
  public static final int NOT_DECIDED = -1;

  /** The bytes that an operand specifier adds. */
  @FunctionalInterface
  public interface Growth {

    /**
     * Returns the bytes added.
     *
     * @param specifier the specifier byte, in [0, 0xff]
     * @param next the byte after it, in [0, 0xff]
     * @param modes the mode word
     * @return bytes in [0, 100], or {@link #NOT_DECIDED}
     */
    int added(int specifier, int next, int modes);
  }

  /** What a map says of one code. */
  public sealed interface Outcome {}

  /** The lane may say anything. */
  public record Anything() implements Outcome {}

  /**
   * Decoding goes on in another map.
   *
   * @param map its index, larger than that of the map that the escape is in
   */
  public record Escape(int map) implements Outcome {}

  /**
   * The lane says a length.
   *
   * @param byModes for each mode word the bytes without what the specifier adds; 0 is "not handled"
   * @param specifier the index of the operand specifier that adds to it, or -1
   */
  public record Bytes(List<Integer> byModes, int specifier) implements Outcome {

    /**
     * Copies the list.
     *
     * @param byModes see Bytes
     * @param specifier see Bytes
     */
    public Bytes {
      byModes = List.copyOf(byModes);
    }
  }

  /**
   * A map.
   *
   * @param name its name, for reports
   * @param offset the byte that keys it
   * @param specifierOffset the byte that holds the operand specifier of its rows: that after the
   *     code, or the code's own byte where that only tells rows apart
   * @param outcomes the outcome of each of 256 codes
   */
  public record CodeMap(String name, int offset, int specifierOffset, List<Outcome> outcomes) {

    /**
     * Copies the list.
     *
     * @param name see CodeMap
     * @param offset see CodeMap
     * @param specifierOffset see CodeMap
     * @param outcomes see CodeMap
     */
    public CodeMap {
      Objects.requireNonNull(name, "name");
      outcomes = List.copyOf(outcomes);
    }
  }

  private final List<String> modes;
  private final int most;
  private final List<byte[]> specifiers;
  private final int[] specifierBits;
  private final List<CodeMap> maps;
  private final List<CodeMap> codedMaps;
  private final int bytes;

  private LaneFunction(Builder builder) {
    this.modes = builder.modes;
    this.most = builder.most;
    this.specifiers = List.copyOf(builder.specifiers);
    this.specifierBits = specifiers.stream().mapToInt(LaneFunction::bitsRead).toArray();
    this.maps = List.copyOf(builder.maps);
    this.codedMaps = new EscapeShortcuts(maps).maps();
    this.bytes = countBytes();
  }

  /**
   * Starts a shape.
   *
   * @param modes the names of the modes, at most 8
   * @param most the longest length that the lane says, in [1, 63]
   * @return a builder without maps
   * @throws IllegalArgumentException if there are too many modes or {@code most} is out of range
   */
  public static Builder builder(List<String> modes, int most) {
    return new Builder(modes, most);
  }

  /**
   * Returns a lane of other maps, with the same modes, operand specifiers and longest length.
   *
   * @param other the maps, the first being where decoding starts
   * @return the function
   * @throws IllegalArgumentException if a map does not fit, there is none, or an escape does not
   *     lead to a later map
   */
  public LaneFunction withMaps(List<CodeMap> other) {
    Builder builder = builder(modes, most);
    builder.specifiers.addAll(specifiers);
    other.forEach(builder::map);
    return builder.build();
  }

  /**
   * Returns the names of the modes.
   *
   * @return an immutable list
   */
  public List<String> modes() {
    return modes;
  }

  /**
   * Returns the number of mode words.
   *
   * @return a power of two
   */
  public int modeWords() {
    return 1 << modes.size();
  }

  /**
   * Returns the maps, the first being where decoding starts.
   *
   * @return an immutable list
   */
  public List<CodeMap> maps() {
    return maps;
  }

  /**
   * Returns the maps for which codes are chosen: those that need not be read are left out.
   *
   * @return the maps, in order
   */
  public List<CodeMap> codedMaps() {
    return codedMaps;
  }

  /**
   * Returns the number of operand specifiers.
   *
   * @return at least 0
   */
  public int specifiers() {
    return specifiers.size();
  }

  /**
   * Returns the width of the lane's answer.
   *
   * @return bits
   */
  public int lengthBits() {
    return Integer.SIZE - Integer.numberOfLeadingZeros(most);
  }

  /**
   * Returns the number of bytes from the lane's own on that the function can depend on.
   *
   * @return at least 1
   */
  public int bytes() {
    return bytes;
  }

  private int countBytes() {
    int last = 0;
    for (CodeMap map : maps) {
      last = Math.max(last, map.offset());
      for (Outcome outcome : map.outcomes()) {
        if (outcome instanceof Bytes row && row.specifier() >= 0) {
          boolean next = readsNext(row.specifier());
          last = Math.max(last, map.specifierOffset() + (next ? 1 : 0));
        }
      }
    }
    return last + 1;
  }

  private boolean readsNext(int specifier) {
    return specifierBits[specifier] >> 8 != 0;
  }

  /** Returns the bits of the two bytes at a specifier that it depends on. */
  private static int bitsRead(byte[] table) {
    int bits = 0;
    for (int bit = 0; bit < 16; bit++) {
      for (int i = 0; i < table.length && (bits >> bit & 1) == 0; i++) {
        bits |= table[i] != table[i ^ 1 << bit] ? 1 << bit : 0;
      }
    }
    return bits;
  }

  /**
   * Returns the bytes that a specifier adds.
   *
   * @param index the specifier
   * @param specifier the specifier byte
   * @param next the byte after it
   * @param modeWord the mode word
   * @return bytes or {@link #NOT_DECIDED}
   */
  public int added(int index, int specifier, int next, int modeWord) {
    return specifiers.get(index)[modeWord << 16 | next << 8 | specifier];
  }

  /**
   * Tells whether the function can depend on an input, numbered as a mapping does.
   *
   * @param input the number of an input
   * @return false if no length depends on it
   */
  public boolean reads(int input) {
    if (input >= 8 * bytes()) {
      return true;
    }
    for (CodeMap map : maps) {
      int bit = input - 8 * map.offset();
      for (int code = 0; code < 256; code++) {
        Outcome outcome = map.outcomes().get(code);
        if (bit >= 0 && bit < 8 && !outcome.equals(map.outcomes().get(code ^ 1 << bit))) {
          return true;
        }
        int own = input - 8 * map.specifierOffset();
        if (outcome instanceof Bytes row
            && row.specifier() >= 0
            && own >= 0
            && own < 16
            && (specifierBits[row.specifier()] >> own & 1) != 0) {
          return true;
        }
      }
    }
    return false;
  }

  /**
   * Tells whether a specifier adds no byte in a mode word, whatever the bytes.
   *
   * @param index a specifier
   * @param modeWord the mode word
   * @return true if it never adds a byte
   */
  public boolean addsNothing(int index, int modeWord) {
    byte[] table = specifiers.get(index);
    int from = modeWord << 16;
    for (int i = from; i < from + (1 << 16); i++) {
      if (table[i] != 0) {
        return false;
      }
    }
    return true;
  }

  /**
   * Tells whether two specifiers add the same in a mode word, whatever the bytes.
   *
   * @param index a specifier
   * @param other another specifier
   * @param modeWord the mode word
   * @return true if both always add as much
   */
  public boolean addsAlike(int index, int other, int modeWord) {
    int from = modeWord << 16;
    int to = from + (1 << 16);
    return Arrays.equals(specifiers.get(index), from, to, specifiers.get(other), from, to);
  }

  /**
   * Returns the length that results from a base and an addition.
   *
   * @param base bytes without the specifier's addition, 0 for "not handled"
   * @param added what the specifier adds, or {@link #NOT_DECIDED}
   * @return the length, 0 for "not handled"
   */
  public int sum(int base, int added) {
    return base == 0 || added < 0 || base + added > most ? 0 : base + added;
  }

  /**
   * Computes the lane's answer.
   *
   * @param window the bytes from the lane's own on, at least {@link #bytes()}
   * @param modeWord the mode word
   * @return the length, 0 for "not handled", or {@link #ANYTHING}
   */
  public int length(int[] window, int modeWord) {
    CodeMap map = maps.get(0);
    while (true) {
      Outcome outcome = map.outcomes().get(window[map.offset()]);
      if (outcome instanceof Escape escape) {
        map = maps.get(escape.map());
      } else if (outcome instanceof Bytes row) {
        int at = map.specifierOffset();
        int added =
            row.specifier() < 0
                ? 0
                : added(
                    row.specifier(),
                    window[at],
                    at + 1 < window.length ? window[at + 1] : 0,
                    modeWord);
        return sum(row.byModes().get(modeWord), added);
      } else {
        return ANYTHING;
      }
    }
  }

  /** Collects specifiers and maps. */
  public static final class Builder {

    private final List<String> modes;
    private final int most;
    private final List<byte[]> specifiers = new ArrayList<>();
    private final List<CodeMap> maps = new ArrayList<>();

    private Builder(List<String> modes, int most) {
      this.modes = List.copyOf(modes);
      this.most = most;
      if (modes.size() > 8 || most < 1 || most > 63) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "lane shape: modes must be at most 8 and the longest length in [1, 63],"
                    + " found %d and %d",
                modes.size(),
                most));
      }
    }

    /**
     * Adds an operand specifier, or finds one that adds the same.
     *
     * @param growth what it adds
     * @return its index
     */
    public int specifier(Growth growth) {
      byte[] table = new byte[1 << (16 + modes.size())];
      for (int i = 0; i < table.length; i++) {
        Work.check();
        table[i] = (byte) growth.added(i & 0xff, i >> 8 & 0xff, i >> 16);
      }
      for (int i = 0; i < specifiers.size(); i++) {
        if (Arrays.equals(specifiers.get(i), table)) {
          return i;
        }
      }
      specifiers.add(table);
      return specifiers.size() - 1;
    }

    /**
     * Adds a map; the first one added is where decoding starts.
     *
     * @param map the map
     * @return this builder
     * @throws IllegalArgumentException if the map does not fit the shape
     */
    public Builder map(CodeMap map) {
      int words = 1 << modes.size();
      if (map.outcomes().size() != 256 || maps.isEmpty() && map.offset() != 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "lane shape, map %s: 256 outcomes are needed, and offset 0 in the first map,"
                    + " found %d and %d",
                map.name(),
                map.outcomes().size(),
                map.offset()));
      }
      for (Outcome outcome : map.outcomes()) {
        if (outcome instanceof Bytes row
            && (row.byModes().size() != words || row.specifier() >= specifiers.size())) {
          throw new IllegalArgumentException(
              String.format(
                  Locale.ROOT,
                  "lane shape, map %s: a row needs bytes for %d mode words and a known specifier,"
                      + " found %s",
                  map.name(),
                  words,
                  row));
        }
      }
      maps.add(map);
      return this;
    }

    /**
     * Builds the shape.
     *
     * @return the shape
     * @throws IllegalArgumentException if there is no map or an escape does not lead to a later map
     */
    public LaneFunction build() {
      for (int m = 0; m < maps.size(); m++) {
        for (Outcome outcome : maps.get(m).outcomes()) {
          if (outcome instanceof Escape escape
              && (escape.map() <= m
                  || escape.map() >= maps.size()
                  || maps.get(escape.map()).offset() <= maps.get(m).offset())) {
            throw new IllegalArgumentException(
                String.format(
                    Locale.ROOT,
                    "lane shape, map %s: an escape must lead to a later map and byte, found map %d",
                    maps.get(m).name(),
                    escape.map()));
          }
        }
      }
      if (maps.isEmpty()) {
        throw new IllegalArgumentException("lane shape: a map is needed, found none");
      }
      return new LaneFunction(this);
    }
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof LaneFunction that
        && modes.equals(that.modes)
        && most == that.most
        && maps.equals(that.maps)
        && specifiers.size() == that.specifiers.size()
        && IntStream.range(0, specifiers.size())
            .allMatch(i -> Arrays.equals(specifiers.get(i), that.specifiers.get(i)));
  }

  @Override
  public int hashCode() {
    return Objects.hash(modes, most, maps);
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT, "%d maps, %d specifiers, modes %s", maps.size(), specifiers.size(), modes);
  }

  /** Returns a list of the same value for every mode word. */
  List<Integer> constant(int bytes) {
    return Collections.nCopies(modeWords(), bytes);
  }
}

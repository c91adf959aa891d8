package dev.lengthwise.cache;

import dev.lengthwise.table.DescriptionException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * The sizes of a cache, and what follows from them.
 *
 * <p>An address is tag, index and offset, from the highest bit down. The index chooses a set of one
 * line for each way; lines start at multiples of their size, and windows at multiples of theirs.
 * Immutable; equal when the sizes are equal.
 *
 * @param capacityBytes the bytes of all lines, in [4, {@value #MOST_CAPACITY}]
 * @param ways the lines of a set, in [1, {@value #MOST_WAYS}]
 * @param lineBytes the bytes of a line, a power of two in [4, {@value #MOST_LINE}]
 * @param addressBits the bits of a byte address, in [{@value #LEAST_ADDRESS}, 64]
 * @param windowBytes the bytes delivered in a cycle, a power of two in [4, {@value #MOST_WINDOW}]
 */
public record CacheGeometry(
    int capacityBytes, int ways, int lineBytes, int addressBits, int windowBytes) {

  /** The largest capacity, in bytes. */
  public static final int MOST_CAPACITY = 1 << 24;

  /** The most ways. */
  public static final int MOST_WAYS = 16;

  /** The longest line, in bytes. */
  public static final int MOST_LINE = 256;

  /** The fewest bits of an address. */
  public static final int LEAST_ADDRESS = 8;

  /** The longest window, in bytes. */
  public static final int MOST_WINDOW = 32;

  private static final int LEAST_BYTES = 4;

  private static final Range CAPACITY = new Range(LEAST_BYTES, MOST_CAPACITY, "bytes");
  private static final Range WAYS = new Range(1, MOST_WAYS, "");
  private static final Range ADDRESS = new Range(LEAST_ADDRESS, Long.SIZE, "bits");

  /** Where a value must be, and its unit if that is said. */
  private record Range(int least, int most, String unit) {}

  /**
   * Checks all that {@link Builder#build()} checks.
   *
   * @param capacityBytes see CacheGeometry
   * @param ways see CacheGeometry
   * @param lineBytes see CacheGeometry
   * @param addressBits see CacheGeometry
   * @param windowBytes see CacheGeometry
   * @throws IllegalArgumentException if a size is out of range
   * @throws DescriptionException if sizes contradict each other
   */
  public CacheGeometry {
    requireRange("cache", "the capacity", capacityBytes, CAPACITY);
    String subject = subject(capacityBytes);
    requireRange(subject, "the ways", ways, WAYS);
    requirePowerOfTwo(subject, "a line", lineBytes, MOST_LINE);
    requireRange(subject, "an address", addressBits, ADDRESS);
    requirePowerOfTwo(subject, "a window", windowBytes, MOST_WINDOW);
    DescriptionException.throwIfAny(
        faults(capacityBytes, ways, lineBytes, addressBits, windowBytes));
  }

  /**
   * Starts a direct-mapped cache with lines of 32 bytes, addresses of 32 bits, and windows of 8
   * bytes or, with shorter lines, a line.
   *
   * @param bytes the bytes of all lines, in [4, {@value #MOST_CAPACITY}]
   * @return a builder
   * @throws IllegalArgumentException if the capacity is out of range
   */
  public static Builder builder(int bytes) {
    return new Builder(requireRange("cache", "the capacity", bytes, CAPACITY));
  }

  /**
   * Starts a copy; what is not given again stays as it is.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /**
   * Returns the number of sets.
   *
   * @return a power of two
   */
  public int sets() {
    return capacityBytes / (ways * lineBytes);
  }

  /**
   * Returns the bits that choose a byte of a line.
   *
   * @return the lowest bits
   */
  public Field offset() {
    return new Field(0, Integer.numberOfTrailingZeros(lineBytes));
  }

  /**
   * Returns the bits that choose the set.
   *
   * @return the bits above the offset; empty if there is one set
   */
  public Field index() {
    return new Field(offset().width(), Integer.numberOfTrailingZeros(sets()));
  }

  /**
   * Returns the bits that are kept beside the line and compared.
   *
   * @return the bits above the index, at least one
   */
  public Field tag() {
    int low = offset().width() + index().width();
    return new Field(low, addressBits - low);
  }

  /**
   * Returns the lines of the cache.
   *
   * @return sets times ways
   */
  public int lines() {
    return sets() * ways;
  }

  /**
   * Returns the windows of a line: the beats of its reading, and of its fill window by window.
   *
   * @return a power of two
   */
  public int lineWindows() {
    return lineBytes / windowBytes;
  }

  /**
   * Returns the bits that say which lines are valid.
   *
   * @return one for each line
   */
  public int validBits() {
    return lines();
  }

  /**
   * Returns the bits of all tags.
   *
   * @return lines times the tag's width
   */
  public long tagBits() {
    return (long) lines() * tag().width();
  }

  /**
   * Returns the bits of all lines with tags and valid bits, without replacement state.
   *
   * @return bits
   */
  public long totalBits() {
    return 8L * capacityBytes + tagBits() + validBits();
  }

  /** Returns the sizes and the parts of an address in one line of words. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d bytes, %d ways, %d-byte lines, %d sets; address of %d bits: tag %s, index %s, offset"
            + " %s",
        capacityBytes,
        ways,
        lineBytes,
        sets(),
        addressBits,
        tag(),
        index(),
        offset());
  }

  private static String subject(int capacityBytes) {
    return "cache of " + capacityBytes + " bytes";
  }

  private static int requireRange(String subject, String what, int value, Range range) {
    if (value < range.least || value > range.most) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s: %s must be in [%d, %d]%s, found %d",
              subject,
              what,
              range.least,
              range.most,
              range.unit.isEmpty() ? "" : " " + range.unit,
              value));
    }
    return value;
  }

  private static int requirePowerOfTwo(String subject, String what, int value, int most) {
    if (value < LEAST_BYTES || value > most || Integer.bitCount(value) != 1) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s: %s must be a power of two in [%d, %d] bytes, found %d",
              subject,
              what,
              LEAST_BYTES,
              most,
              value));
    }
    return value;
  }

  private static List<String> faults(int capacity, int ways, int line, int address, int window) {
    String subject = subject(capacity);
    List<String> faults = new ArrayList<>();
    int setBytes = ways * line;
    int sets = capacity / setBytes;
    if (capacity % setBytes != 0) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: the capacity must be a multiple of %d ways of %d-byte lines, %d bytes, found %d",
              subject,
              ways,
              line,
              setBytes,
              capacity));
    } else if (Integer.bitCount(sets) != 1) {
      faults.add(
          String.format(
              Locale.ROOT, "%s: the sets must be a power of two, found %d", subject, sets));
    } else {
      int below = Integer.numberOfTrailingZeros(sets) + Integer.numberOfTrailingZeros(line);
      if (address <= below) {
        faults.add(
            String.format(
                Locale.ROOT,
                "%s: an address must have more bits than index and offset, %d, found %d",
                subject,
                below,
                address));
      }
    }
    if (window > line) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: a window must be no longer than a line of %d bytes, found %d",
              subject,
              line,
              window));
    }
    return faults;
  }

  /** Collects the sizes of a cache. */
  public static final class Builder {

    private final int capacityBytes;
    private final Map<String, Integer> given = new LinkedHashMap<>();
    private final Map<String, Integer> kept = new LinkedHashMap<>();

    private Builder(int capacityBytes) {
      this.capacityBytes = capacityBytes;
    }

    private Builder(CacheGeometry geometry) {
      this(geometry.capacityBytes);
      kept.put("ways", geometry.ways);
      kept.put("line bytes", geometry.lineBytes);
      kept.put("address bits", geometry.addressBits);
      kept.put("window bytes", geometry.windowBytes);
    }

    /**
     * Sets the lines of a set.
     *
     * @param ways in [1, {@value #MOST_WAYS}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder ways(int ways) {
      return give("ways", requireRange(subject(), "the ways", ways, WAYS));
    }

    /**
     * Sets the bytes of a line.
     *
     * @param bytes a power of two in [4, {@value #MOST_LINE}]
     * @return this builder
     * @throws IllegalArgumentException if it is none
     * @throws IllegalStateException if given before
     */
    public Builder lineBytes(int bytes) {
      return give("line bytes", requirePowerOfTwo(subject(), "a line", bytes, MOST_LINE));
    }

    /**
     * Sets the bits of a byte address.
     *
     * @param bits in [{@value #LEAST_ADDRESS}, 64]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder addressBits(int bits) {
      return give("address bits", requireRange(subject(), "an address", bits, ADDRESS));
    }

    /**
     * Sets the bytes delivered in a cycle.
     *
     * @param bytes a power of two in [4, {@value #MOST_WINDOW}]
     * @return this builder
     * @throws IllegalArgumentException if it is none
     * @throws IllegalStateException if given before
     */
    public Builder windowBytes(int bytes) {
      return give("window bytes", requirePowerOfTwo(subject(), "a window", bytes, MOST_WINDOW));
    }

    /**
     * Builds the geometry.
     *
     * @return the geometry
     * @throws DescriptionException if sizes contradict each other
     */
    public CacheGeometry build() {
      Map<String, Integer> set = new LinkedHashMap<>(kept);
      set.putAll(given);
      int line = set.getOrDefault("line bytes", 32);
      return new CacheGeometry(
          capacityBytes,
          set.getOrDefault("ways", 1),
          line,
          set.getOrDefault("address bits", 32),
          set.getOrDefault("window bytes", Math.min(8, line)));
    }

    private String subject() {
      return CacheGeometry.subject(capacityBytes);
    }

    private Builder give(String what, int value) {
      Integer before = given.putIfAbsent(what, value);
      if (before != null) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "%s: %s is given once, found %d after %d",
                subject(),
                what,
                value,
                before));
      }
      return this;
    }
  }

  /**
   * A run of bits of an address.
   *
   * @param low the lowest bit, in [0, 64]
   * @param width the bits, in [0, 64 - low]; 0 if the field is empty
   */
  public record Field(int low, int width) {

    /**
     * Checks the ranges.
     *
     * @param low see Field
     * @param width see Field
     * @throws IllegalArgumentException if the field is not inside 64 bits
     */
    public Field {
      if (low < 0 || width < 0 || low > Long.SIZE - width) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "bit field: the bits must be in [0, 64), found %d from bit %d",
                width,
                low));
      }
    }

    /**
     * Returns the field's value in an address.
     *
     * @param address the address, unsigned
     * @return the value, unsigned; 0 if the field is empty
     */
    public long of(long address) {
      return width == 0 ? 0 : (address << (Long.SIZE - low - width)) >>> (Long.SIZE - width);
    }

    /** Returns the highest and the lowest bit as {@code "11..5"}, or {@code "none"}. */
    @Override
    public String toString() {
      return width == 0 ? "none" : (low + width - 1) + ".." + low;
    }
  }
}

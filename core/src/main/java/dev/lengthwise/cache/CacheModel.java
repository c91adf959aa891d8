package dev.lengthwise.cache;

import java.util.Arrays;
import java.util.Locale;

/**
 * A fast software model of a cache: which accesses hit, and what leaves.
 *
 * <p>An access that misses fills its line at once; a set that is not full takes it in its lowest
 * way that is not valid. Nothing is allocated by an access. Not safe for use by several threads.
 */
public final class CacheModel {

  /** No tag: tags are shorter than 64 bits, so never negative. */
  private static final long INVALID = -1;

  private final CacheGeometry geometry;
  private final int ways;
  private final int offsetBits;
  private final int indexBits;
  private final int setMask;
  private final long beyond;
  private final long[] tags;
  private final ReplacementState replacement;
  private final long[] hits;
  private final long[] misses;
  private final long[] evictions;

  private CacheModel(CacheGeometry geometry, Replacement replacement) {
    this.geometry = geometry;
    this.ways = geometry.ways();
    this.offsetBits = geometry.offset().width();
    this.indexBits = geometry.index().width();
    int sets = geometry.sets();
    this.setMask = sets - 1;
    this.beyond = geometry.addressBits() == Long.SIZE ? 0 : -1L << geometry.addressBits();
    this.tags = new long[sets * ways];
    Arrays.fill(tags, INVALID);
    this.replacement = ReplacementState.of(replacement, sets, ways);
    this.hits = new long[sets];
    this.misses = new long[sets];
    this.evictions = new long[sets];
  }

  /**
   * Makes an empty cache.
   *
   * @param geometry the sizes
   * @param replacement which line leaves
   * @return the model
   * @throws IllegalStateException if the replacement cannot have the ways
   */
  public static CacheModel of(CacheGeometry geometry, Replacement replacement) {
    if (!replacement.fits(geometry.ways())) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "cache model: the ways under %s must be a power of two, found %d",
              replacement.label(),
              geometry.ways()));
    }
    return new CacheModel(geometry, replacement);
  }

  /**
   * Makes an empty cache.
   *
   * @param cache the cache
   * @return the model
   */
  public static CacheModel of(InstructionCache cache) {
    return of(cache.geometry(), cache.replacement());
  }

  /**
   * Returns the sizes.
   *
   * @return the geometry
   */
  public CacheGeometry geometry() {
    return geometry;
  }

  /**
   * Accesses the line of an address, and fills it if it is not there.
   *
   * @param address a byte address, unsigned
   * @return true if the line was there
   * @throws IllegalArgumentException if the address is too wide
   */
  public boolean access(long address) {
    int set = setOf(address);
    long tag = tagOf(address);
    int base = set * ways;
    for (int way = 0; way < ways; way++) {
      if (tags[base + way] == tag) {
        hits[set]++;
        replacement.hit(set, way);
        return true;
      }
    }
    fill(set, base, tag);
    return false;
  }

  /**
   * Accesses all lines of an instruction or window, lowest first.
   *
   * @param address the byte address of its first byte, unsigned
   * @param bytes its bytes, at least 1
   * @return true if all lines were there
   * @throws IllegalArgumentException if there is no byte, or an address is too wide
   */
  public boolean access(long address, int bytes) {
    if (bytes < 1) {
      throw new IllegalArgumentException(
          "cache model: the bytes of an access must be at least 1, found " + bytes);
    }
    long first = address >>> offsetBits;
    // The mask lets an access run over the end of a 64-bit address space, as its machine does.
    long more = (((address + bytes - 1) >>> offsetBits) - first) & (-1L >>> offsetBits);
    boolean there = true;
    for (long line = first; line <= first + more; line++) {
      there &= access(line << offsetBits);
    }
    return there;
  }

  private void fill(int set, int base, long tag) {
    misses[set]++;
    int way = 0;
    while (way < ways && tags[base + way] != INVALID) {
      way++;
    }
    if (way == ways) {
      evictions[set]++;
      way = replacement.victim(set);
    }
    tags[base + way] = tag;
    replacement.filled(set, way);
  }

  /**
   * Returns the way that has the line of an address, and changes nothing.
   *
   * @param address a byte address, unsigned
   * @return in [0, ways), or -1 if no way has it
   * @throws IllegalArgumentException if the address is too wide
   */
  public int wayOf(long address) {
    int base = setOf(address) * ways;
    long tag = tagOf(address);
    for (int way = 0; way < ways; way++) {
      if (tags[base + way] == tag) {
        return way;
      }
    }
    return -1;
  }

  /** Makes all lines invalid. Replacement state and counts stay. */
  public void flush() {
    Arrays.fill(tags, INVALID);
  }

  /**
   * Makes the line of an address invalid, if it is there. Replacement state and counts stay.
   *
   * @param address a byte address, unsigned
   * @throws IllegalArgumentException if the address is too wide
   */
  public void flush(long address) {
    int way = wayOf(address);
    if (way >= 0) {
      tags[setOf(address) * ways + way] = INVALID;
    }
  }

  private int setOf(long address) {
    if ((address & beyond) != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cache model: an address must have at most %d bits, found 0x%x",
              geometry.addressBits(),
              address));
    }
    return (int) (address >>> offsetBits) & setMask;
  }

  private long tagOf(long address) {
    return address >>> offsetBits >>> indexBits;
  }

  /**
   * Returns the accesses that found their line.
   *
   * @return hits of all sets
   */
  public long hits() {
    return Arrays.stream(hits).sum();
  }

  /**
   * Returns the accesses that did not find their line.
   *
   * @return misses of all sets
   */
  public long misses() {
    return Arrays.stream(misses).sum();
  }

  /**
   * Returns the lines that left for another.
   *
   * @return evictions of all sets
   */
  public long evictions() {
    return Arrays.stream(evictions).sum();
  }

  private int checkSet(int set) {
    if (set < 0 || set >= hits.length) {
      throw new IndexOutOfBoundsException(
          String.format(
              Locale.ROOT, "cache model: a set must be in [0, %d), found %d", hits.length, set));
    }
    return set;
  }

  /**
   * Returns the accesses to a set that found their line.
   *
   * @param set in [0, sets)
   * @return hits
   * @throws IndexOutOfBoundsException if there is no such set
   */
  public long hits(int set) {
    return hits[checkSet(set)];
  }

  /**
   * Returns the accesses to a set that did not find their line.
   *
   * @param set in [0, sets)
   * @return misses
   * @throws IndexOutOfBoundsException if there is no such set
   */
  public long misses(int set) {
    return misses[checkSet(set)];
  }

  /**
   * Returns the lines of a set that left for another.
   *
   * @param set in [0, sets)
   * @return evictions
   * @throws IndexOutOfBoundsException if there is no such set
   */
  public long evictions(int set) {
    return evictions[checkSet(set)];
  }
}

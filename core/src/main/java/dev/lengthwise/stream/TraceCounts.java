package dev.lengthwise.stream;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.Objects;
import java.util.SplittableRandom;

/**
 * A trace without its order: how often each distinct instruction was executed.
 *
 * <p>An instruction is an address and a length; both may repeat with the other different, where
 * code was overwritten or entered in the middle. Sorted by address, unsigned, then by length.
 * Immutable.
 */
public final class TraceCounts {

  /** The longest instruction that is counted, in bytes. */
  public static final int LONGEST = 63;

  /** The most distinct instructions that are kept, so that a broken trace cannot fill memory. */
  public static final int MOST_DISTINCT = 1 << 23;

  /** No instructions. */
  public static final TraceCounts NONE = new TraceCounts(new long[0], new byte[0], new long[0]);

  private final long[] addresses;
  private final byte[] lengths;
  private final long[] counts;
  private final long instructions;

  /** Takes arrays that nobody else keeps, sorted, each instruction once. */
  TraceCounts(long[] addresses, byte[] lengths, long[] counts) {
    this.addresses = addresses;
    this.lengths = lengths;
    this.counts = counts;
    long sum = 0;
    for (long count : counts) {
      sum = Math.addExact(sum, count);
    }
    this.instructions = sum;
  }

  /** Checks the range of a length. */
  static void checkLength(int length) {
    if (length < 1 || length > LONGEST) {
      throw new IllegalArgumentException(
          "trace: a length must be in [1, " + LONGEST + "] bytes, found " + length);
    }
  }

  /**
   * Counts the instructions of a trace, as {@link TraceReader} reads it.
   *
   * @param file a trace, plain or gzip
   * @return its counts
   * @throws IOException as {@link TraceReader#read(Path, TraceSink)}
   */
  public static TraceCounts ofTrace(Path file) throws IOException {
    Counter counter = new Counter();
    try {
      TraceReader.read(file, counter);
    } catch (IllegalStateException e) {
      throw new IOException(StreamFiles.name(file) + ": " + e.getMessage(), e);
    }
    return counter.counts();
  }

  /**
   * Reads counts that {@link #save} has written.
   *
   * @param file the file, plain or gzip
   * @return the counts
   * @throws IOException if the file cannot be read, or is not as {@code save} writes it; the
   *     message names file, line, what is expected and what was found
   */
  public static TraceCounts load(Path file) throws IOException {
    try (InputStream in = StreamFiles.open(file)) {
      return new CountsFile(new ByteScanner(in, StreamFiles.name(file))).read();
    }
  }

  /**
   * Reads counts from a stream to its end, without closing it.
   *
   * @param in the bytes of a file that {@link #save} has written, plain or gzip
   * @param name what messages call the stream
   * @return the counts
   * @throws IOException as {@link #load(Path)}
   */
  public static TraceCounts load(InputStream in, String name) throws IOException {
    Objects.requireNonNull(in, "in");
    Objects.requireNonNull(name, "name");
    return new CountsFile(new ByteScanner(StreamFiles.open(in, name), name)).read();
  }

  /**
   * Writes the counts as comma-separated values: a line of heads, {@code address,length,count} in
   * hex, decimal and decimal for each instruction in order, and a last line of totals that shows
   * that the file is whole. Equal counts give equal bytes.
   *
   * @param file where to write; gzip if the name ends in {@code .gz}
   * @throws IOException if the file cannot be written, or something else than a regular file stands
   *     there; an old one is left as it was
   */
  public void save(Path file) throws IOException {
    StreamFiles.write(file, out -> CountsFile.write(this, out));
  }

  /**
   * Returns the sum of these counts and others.
   *
   * @param other further counts of the same code
   * @return the counts of both
   * @throws IllegalStateException if there are more than {@value #MOST_DISTINCT} distinct
   *     instructions
   * @throws ArithmeticException if a count passes 2^63
   */
  public TraceCounts merge(TraceCounts other) {
    int most = distinct() + other.distinct();
    long[] mergedAddresses = new long[most];
    byte[] mergedLengths = new byte[most];
    long[] mergedCounts = new long[most];
    int i = 0;
    int j = 0;
    int n = 0;
    while (i < distinct() || j < other.distinct()) {
      int order = compare(i, other, j);
      TraceCounts from = order <= 0 ? this : other;
      int at = order <= 0 ? i : j;
      mergedAddresses[n] = from.addresses[at];
      mergedLengths[n] = from.lengths[at];
      mergedCounts[n++] = order == 0 ? Math.addExact(counts[i], other.counts[j]) : from.counts[at];
      i += order <= 0 ? 1 : 0;
      j += order >= 0 ? 1 : 0;
    }
    if (n > MOST_DISTINCT) {
      throw new IllegalStateException(
          "trace: at most " + MOST_DISTINCT + " distinct instructions are counted, found " + n);
    }
    return new TraceCounts(
        Arrays.copyOf(mergedAddresses, n),
        Arrays.copyOf(mergedLengths, n),
        Arrays.copyOf(mergedCounts, n));
  }

  /** Compares an entry with one of other counts; behind the last one is greatest. */
  private int compare(int i, TraceCounts other, int j) {
    if (i == distinct() || j == other.distinct()) {
      return i == distinct() ? 1 : -1;
    }
    int byAddress = Long.compareUnsigned(addresses[i], other.addresses[j]);
    return byAddress != 0 ? byAddress : Byte.compare(lengths[i], other.lengths[j]);
  }

  /**
   * Returns the number of distinct instructions.
   *
   * @return in [0, {@value #MOST_DISTINCT}]
   */
  public int distinct() {
    return addresses.length;
  }

  /**
   * Returns the number of instructions executed.
   *
   * @return the sum of all counts
   */
  public long instructions() {
    return instructions;
  }

  /**
   * Returns the address of a distinct instruction.
   *
   * @param index in [0, {@link #distinct()})
   * @return its address
   */
  public long address(int index) {
    return addresses[index];
  }

  /**
   * Returns the length of a distinct instruction.
   *
   * @param index in [0, {@link #distinct()})
   * @return bytes, in [1, {@value #LONGEST}]
   */
  public int length(int index) {
    return lengths[index];
  }

  /**
   * Returns how often a distinct instruction was executed.
   *
   * @param index in [0, {@link #distinct()})
   * @return at least 1
   */
  public long count(int index) {
    return counts[index];
  }

  /**
   * Finds a distinct instruction.
   *
   * @param address its address
   * @param length its length in bytes
   * @return its index, or -1 if it was not executed
   */
  public int indexOf(long address, int length) {
    int low = 0;
    int high = distinct() - 1;
    while (low <= high) {
      int middle = (low + high) >>> 1;
      int order = Long.compareUnsigned(addresses[middle], address);
      order = order != 0 ? order : Integer.compare(lengths[middle], length);
      if (order == 0) {
        return middle;
      }
      low = order < 0 ? middle + 1 : low;
      high = order < 0 ? high : middle - 1;
    }
    return -1;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof TraceCounts that
        && Arrays.equals(addresses, that.addresses)
        && Arrays.equals(lengths, that.lengths)
        && Arrays.equals(counts, that.counts);
  }

  @Override
  public int hashCode() {
    return Objects.hash(
        Arrays.hashCode(addresses), Arrays.hashCode(lengths), Arrays.hashCode(counts));
  }

  @Override
  public String toString() {
    return instructions + " instructions, " + distinct() + " distinct";
  }

  /**
   * Counts how often each distinct instruction of a trace was executed, at 16 bytes for each slot
   * of a table at most half full.
   *
   * <p>Where an instruction lies depends on numbers that are drawn anew for each counter, so no
   * trace can be made whose instructions get in each other's way; what is counted does not depend
   * on them.
   */
  public static final class Counter implements TraceSink {

    /** The bits of a slot's second word that count; the bits above hold the length. */
    private static final int COUNT_BITS = 57;

    private static final long COUNT_MASK = (1L << COUNT_BITS) - 1;

    /**
     * The slots from its group on in which an instruction is looked for first; twice the entries of
     * a group whose every address is counted once.
     */
    private static final int NEAR = 64;

    private static final SplittableRandom KEYS = new SplittableRandom();

    /** Two words a slot: the address, then length and count; a second word of 0 is a free slot. */
    private long[] slots = new long[2 << 12];

    private final long key;
    private int distinct;

    /** Makes a counter that has counted nothing. */
    public Counter() {
      this(newKey());
    }

    /** Makes a counter whose slots follow from a key. */
    Counter(long key) {
      this.key = key | 1;
    }

    private static long newKey() {
      synchronized (KEYS) {
        return KEYS.nextLong();
      }
    }

    /**
     * Counts an instruction.
     *
     * @param address its address
     * @param length its length in bytes, in [1, {@value TraceCounts#LONGEST}]
     * @throws IllegalArgumentException if the length is out of range
     * @throws IllegalStateException if there are more than {@value TraceCounts#MOST_DISTINCT}
     *     distinct instructions
     */
    @Override
    public void instruction(long address, int length) {
      int slot = find(address, length);
      if (slots[slot + 1] == 0) {
        addNew(slot, address, length);
      } else {
        slots[slot + 1]++;
      }
    }

    /**
     * Returns the slot of an instruction, or the free one where it belongs. It is near its group,
     * or if there is no room, as where many lengths were counted at each address, from a slot on
     * that follows from address and length together.
     */
    private int find(long address, int length) {
      int slot = slotOf(address);
      for (int i = 0; i < NEAR; i++) {
        if (slots[slot + 1] == 0 || isAt(slot, address, length)) {
          return slot;
        }
        slot = slot + 2 & slots.length - 1;
      }
      slot = farSlotOf(address, length);
      while (slots[slot + 1] != 0 && !isAt(slot, address, length)) {
        slot = slot + 2 & slots.length - 1;
      }
      return slot;
    }

    private boolean isAt(int slot, long address, int length) {
      return slots[slot] == address && slots[slot + 1] >>> COUNT_BITS == length;
    }

    /** Returns the logarithm of the number of slots. */
    private int slotBits() {
      return Integer.numberOfTrailingZeros(slots.length) - 1;
    }

    /** Mixes a value with the key; the upper bits of the product are the better ones. */
    private long mixed(long value) {
      long product = (value ^ key >>> 7) * key;
      return (product ^ product >>> 32) * key;
    }

    /**
     * Returns where the search for an address starts. What is executed together lies together: each
     * 32 bytes of code share 8 slots.
     */
    private int slotOf(long address) {
      return (group(address) << 3 | (int) (address >>> 2) & 7) << 1;
    }

    /** Returns the group of 8 slots of the 32 bytes that an address is in. */
    int group(long address) {
      return (int) (mixed(address >>> 5) >>> Long.SIZE - (slotBits() - 3));
    }

    /** Returns where the search goes on if there is no room near the group. */
    private int farSlotOf(long address, int length) {
      return (int) (mixed(address ^ (long) length << 56) >>> Long.SIZE - slotBits()) << 1;
    }

    private void addNew(int slot, long address, int length) {
      TraceCounts.checkLength(length);
      if (distinct == TraceCounts.MOST_DISTINCT) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "trace: at most %d distinct instructions are counted, found a further one at 0x%x",
                TraceCounts.MOST_DISTINCT,
                address));
      }
      slots[slot] = address;
      slots[slot + 1] = (long) length << COUNT_BITS | 1;
      distinct++;
      if (4L * distinct > slots.length) {
        grow();
      }
    }

    private void grow() {
      long[] old = slots;
      slots = new long[2 * old.length];
      for (int i = 0; i < old.length; i += 2) {
        if (old[i + 1] != 0) {
          int slot = find(old[i], (int) (old[i + 1] >>> COUNT_BITS));
          slots[slot] = old[i];
          slots[slot + 1] = old[i + 1];
        }
      }
    }

    /**
     * Returns what was counted up to now.
     *
     * @return the counts; later instructions do not change them
     */
    public TraceCounts counts() {
      long[] addresses = new long[distinct];
      int found = 0;
      for (int slot = 0; slot < slots.length; slot += 2) {
        if (slots[slot + 1] != 0) {
          addresses[found++] = slots[slot] ^ Long.MIN_VALUE; // sorts as unsigned
        }
      }
      Arrays.sort(addresses);
      byte[] lengths = new byte[distinct];
      long[] counts = new long[distinct];
      int i = 0;
      while (i < distinct) {
        int end = i + 1;
        while (end < distinct && addresses[end] == addresses[i]) {
          end++;
        }
        readOut(addresses[i] ^ Long.MIN_VALUE, lengths, counts, i, end);
        i = end;
      }
      for (int j = 0; j < distinct; j++) {
        addresses[j] ^= Long.MIN_VALUE;
      }
      return new TraceCounts(addresses, lengths, counts);
    }

    /** Reads the entries of one address, shortest first. */
    private void readOut(long address, byte[] lengths, long[] counts, int from, int to) {
      int slot = slotOf(address);
      int filled = from;
      for (int i = 0; i < NEAR && filled < to; i++) {
        if (slots[slot] == address && slots[slot + 1] != 0) {
          int place = filled++;
          byte length = (byte) (slots[slot + 1] >>> COUNT_BITS);
          while (place > from && lengths[place - 1] > length) {
            lengths[place] = lengths[place - 1];
            counts[place] = counts[place - 1];
            place--;
          }
          lengths[place] = length;
          counts[place] = slots[slot + 1] & COUNT_MASK;
        }
        slot = slot + 2 & slots.length - 1;
      }
      if (filled < to) { // some lie elsewhere, so every length is looked for
        filled = from;
        for (int length = 1; length <= TraceCounts.LONGEST; length++) {
          long word = slots[find(address, length) + 1];
          if (word != 0) {
            lengths[filled] = (byte) length;
            counts[filled++] = word & COUNT_MASK;
          }
        }
      }
    }

    /** Returns how many slots the search for each distinct instruction looks at, in all. */
    long looks() {
      long looks = 0;
      for (int at = 0; at < slots.length; at += 2) {
        if (slots[at + 1] != 0) {
          int from = slotOf(slots[at]);
          int near = (at - from & slots.length - 1) / 2 + 1;
          if (near > NEAR) {
            from = farSlotOf(slots[at], (int) (slots[at + 1] >>> COUNT_BITS));
            near = NEAR + (at - from & slots.length - 1) / 2 + 1;
          }
          looks += near;
        }
      }
      return looks;
    }
  }
}

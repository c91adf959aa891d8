package dev.lengthwise.stream;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Objects;

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
    TraceCounter counter = new TraceCounter();
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
}

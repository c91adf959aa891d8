package dev.lengthwise.stream;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Locale;

/**
 * Counts as comma-separated values.
 *
 * <p>Read by hand rather than with the library for such files: it keeps a quoted field whole, so a
 * broken file could fill memory, and it is several times slower.
 */
final class CountsFile {

  private static final String HEADS = "address,length,count";

  private static final String TOTAL = "total,";

  private final ByteScanner scanner;
  private long[] addresses = new long[1024];
  private byte[] lengths = new byte[1024];
  private long[] counts = new long[1024];
  private int distinct;
  private long instructions;

  CountsFile(ByteScanner scanner) {
    this.scanner = scanner;
  }

  static void write(TraceCounts counts, OutputStream out) throws IOException {
    BufferedOutputStream buffered = new BufferedOutputStream(out, 1 << 16);
    write(buffered, HEADS + "\n");
    for (int i = 0; i < counts.distinct(); i++) {
      write(
          buffered,
          Long.toHexString(counts.address(i))
              + ','
              + counts.length(i)
              + ','
              + counts.count(i)
              + '\n');
    }
    write(buffered, TOTAL + counts.distinct() + ',' + counts.instructions() + '\n');
    buffered.flush();
  }

  private static void write(OutputStream out, String text) throws IOException {
    out.write(text.getBytes(StandardCharsets.US_ASCII));
  }

  TraceCounts read() throws IOException {
    scanner.endLine(expect(HEADS, scanner.next()));
    int c = scanner.next();
    while (c != 't') {
      readEntry(c);
      c = scanner.next();
    }
    readTotal(c);
    c = scanner.next();
    if (c != ByteScanner.END) {
      throw scanner.expected("the end of the file behind the totals", c);
    }
    return new TraceCounts(
        Arrays.copyOf(addresses, distinct),
        Arrays.copyOf(lengths, distinct),
        Arrays.copyOf(counts, distinct));
  }

  private int expect(String text, int first) throws IOException {
    int c = first;
    for (int i = 0; i < text.length(); i++) {
      if (c != text.charAt(i)) {
        throw scanner.expected(
            "'" + text.charAt(i) + "'" + (text.length() > 1 ? " of " + text : ""), c);
      }
      c = scanner.next();
    }
    return c;
  }

  private void readEntry(int first) throws IOException {
    if (ByteScanner.hex(first) < 0) {
      throw scanner.expected("an address or the line of totals", first);
    }
    int c = scanner.readHex(first);
    long address = scanner.value();
    c = scanner.readDecimal(expect(",", c));
    int length = scanner.length();
    c = scanner.readDecimal(expect(",", c));
    long count = scanner.value();
    if (count < 1) {
      throw new IOException(scanner.place() + "a count of at least 1 is expected, found " + count);
    }
    add(address, length, count);
    scanner.endLine(c);
  }

  private void add(long address, int length, long count) throws IOException {
    if (distinct > 0) {
      int order = Long.compareUnsigned(addresses[distinct - 1], address);
      if (order > 0 || order == 0 && lengths[distinct - 1] >= length) {
        throw new IOException(
            scanner.place()
                + "instructions must ascend by address and length, found "
                + Long.toHexString(address)
                + ','
                + length);
      }
    }
    if (distinct == TraceCounts.MOST_DISTINCT) {
      throw new IOException(
          scanner.place()
              + "at most "
              + TraceCounts.MOST_DISTINCT
              + " distinct instructions are counted, found more");
    }
    if (distinct == addresses.length) {
      addresses = Arrays.copyOf(addresses, 2 * distinct);
      lengths = Arrays.copyOf(lengths, 2 * distinct);
      counts = Arrays.copyOf(counts, 2 * distinct);
    }
    addresses[distinct] = address;
    lengths[distinct] = (byte) length;
    counts[distinct++] = count;
    if (instructions > Long.MAX_VALUE - count) {
      throw new IOException(scanner.place() + "counts must sum to less than 2^63, found more");
    }
    instructions += count;
  }

  private void readTotal(int first) throws IOException {
    int c = scanner.readDecimal(expect(TOTAL, first));
    long distinctSaid = scanner.value();
    c = scanner.readDecimal(expect(",", c));
    long instructionsSaid = scanner.value();
    if (distinctSaid != distinct || instructionsSaid != instructions) {
      throw new IOException(
          String.format(
              Locale.ROOT,
              "%stotals of the lines before, %d and %d, are expected, found %d and %d",
              scanner.place(),
              distinct,
              instructions,
              distinctSaid,
              instructionsSaid));
    }
    scanner.endLine(c);
  }
}

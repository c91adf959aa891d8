package dev.lengthwise.stream;

import dev.lengthwise.file.FileFault;
import dev.lengthwise.work.Work;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.util.Locale;
import java.util.zip.ZipException;

/**
 * Bytes of a text file one by one, with the line they are in.
 *
 * <p>Nothing is kept but one buffer, so lines of any length need no memory.
 */
final class ByteScanner {

  /** What {@link #next()} returns behind the last byte. */
  static final int END = -1;

  private static final int MOST_HEX_DIGITS = 16;

  private static final byte[] HEX = hexValues();

  private final InputStream in;
  private final String name;
  private final byte[] buffer = new byte[1 << 17];
  private int position;
  private int limit;
  private long line = 1;
  private long value;

  ByteScanner(InputStream in, String name) {
    this.in = in;
    this.name = name;
  }

  private static byte[] hexValues() {
    byte[] values = new byte[256];
    for (int i = 0; i < values.length; i++) {
      values[i] = (byte) Character.digit(i < 128 ? i : ' ', 16);
    }
    return values;
  }

  /** Returns the next byte, in [0, 0xff], or {@link #END}. */
  int next() throws IOException {
    return position < limit ? buffer[position++] & 0xff : refilled();
  }

  private int refilled() throws IOException {
    if (limit < 0) {
      return END;
    }
    try {
      do {
        Work.check();
        limit = in.read(buffer, 0, buffer.length);
      } while (limit == 0);
    } catch (ZipException | EOFException e) {
      throw new IOException(place() + "a whole gzip file is expected, found " + e.getMessage(), e);
    } catch (IOException e) {
      throw FileFault.reading(name, e);
    }
    position = 0;
    return limit < 0 ? END : buffer[position++] & 0xff;
  }

  /** Counts a line; to be called when a line feed was read. */
  void countLine() {
    line++;
  }

  /** Reads up to the line feed or the end and counts the line. */
  void skipLine(int current) throws IOException {
    int c = current;
    while (c != '\n' && c != END) {
      c = next();
    }
    line++;
  }

  /** Reads blanks and returns the first byte that is none. */
  int skipBlanks(int current) throws IOException {
    int c = current;
    while (c == ' ' || c == '\t') {
      c = next();
    }
    return c;
  }

  /** Returns the value of a hex digit, or -1. */
  static int hex(int c) {
    return c < 0 ? -1 : HEX[c];
  }

  /** Returns the last number read. */
  long value() {
    return value;
  }

  /** Reads hex digits into {@link #value()} and returns the first byte behind them. */
  int readHex(int first) throws IOException {
    int digit = hex(first);
    if (digit < 0) {
      throw expected("a hex digit", first);
    }
    long number = 0;
    int digits = 0;
    int c = first;
    while (digit >= 0) {
      number = number << 4 | digit;
      digits += digits > 0 || digit > 0 ? 1 : 0;
      if (digits > MOST_HEX_DIGITS) {
        throw new IOException(
            place() + "a number of at most 16 hex digits is expected, found more");
      }
      c = next();
      digit = hex(c);
    }
    value = number;
    return c;
  }

  /** Reads decimal digits into {@link #value()} and returns the first byte behind them. */
  int readDecimal(int first) throws IOException {
    if (first < '0' || first > '9') {
      throw expected("a decimal digit", first);
    }
    long number = 0;
    int c = first;
    while (c >= '0' && c <= '9') {
      if (number > (Long.MAX_VALUE - (c - '0')) / 10) {
        throw new IOException(place() + "a number below 2^63 is expected, found a larger one");
      }
      number = number * 10 + (c - '0');
      c = next();
    }
    value = number;
    return c;
  }

  /** Returns {@link #value()} as a length of an instruction. */
  int length() throws IOException {
    if (value < 1 || value > TraceCounts.LONGEST) {
      throw new IOException(
          String.format(
              Locale.ROOT,
              "%sa length must be in [1, %d] bytes, found %s",
              place(),
              TraceCounts.LONGEST,
              Long.toUnsignedString(value)));
    }
    return (int) value;
  }

  /** Reads the end of a line, blanks and a carriage return before it allowed, and counts it. */
  void endLine(int current) throws IOException {
    int c = skipBlanks(current);
    if (c == '\r') {
      c = next();
    }
    if (c != '\n' && c != END) {
      throw expected("the end of the line", c);
    }
    line++;
  }

  /** Returns the failure that something else than {@code found} must stand here. */
  IOException expected(String what, int found) {
    String text =
        switch (found) {
          case END -> "the end of the file";
          case '\n' -> "the end of the line";
          default ->
              found > ' ' && found < 0x7f
                  ? "'" + (char) found + "'"
                  : String.format(Locale.ROOT, "0x%02x", found);
        };
    return new IOException(place() + what + " is expected, found " + text);
  }

  /** Returns the file and the line, to start a message with. */
  String place() {
    return name + ", line " + line + ": ";
  }
}

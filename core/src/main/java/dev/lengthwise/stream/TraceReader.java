package dev.lengthwise.stream;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.Objects;

/**
 * Reads instruction traces of any length, line by line, plain or gzip.
 *
 * <p>Each line is one of
 *
 * <ul>
 *   <li>{@code address length}, both hex, with or without {@code 0x};
 *   <li>{@code I address,size}, address hex and size decimal, as memory tracers print instruction
 *       fetches; their lines of loads, stores and modifications ({@code L}, {@code S}, {@code M}
 *       behind a blank) and their remarks, which start with a number between pairs of equal signs,
 *       hyphens or asterisks, as in {@code --20666--}, are passed over;
 *   <li>empty, or a remark that starts with {@code #}.
 * </ul>
 *
 * <p>A line that is none of these ends the reading with an {@link IOException} that names file,
 * line, what is expected and what was found.
 */
public final class TraceReader {

  private TraceReader() {}

  /**
   * Reads a file or a pipe.
   *
   * @param file the file; gzip if it starts as gzip does
   * @param sink takes the instructions in the order of the file; if a line is wrong it has taken
   *     those before it
   * @return the instructions read
   * @throws IOException if the file cannot be read, a line is wrong, or a gzip file is cut short
   */
  public static long read(Path file, TraceSink sink) throws IOException {
    Objects.requireNonNull(sink, "sink");
    try (InputStream in = StreamFiles.open(file)) {
      return parse(new ByteScanner(in, StreamFiles.name(file)), sink);
    }
  }

  /**
   * Reads a stream to its end, without closing it.
   *
   * @param in the bytes; gzip if they start as gzip does
   * @param name what messages call the stream
   * @param sink takes the instructions in order
   * @return the instructions read
   * @throws IOException as {@link #read(Path, TraceSink)}
   */
  public static long read(InputStream in, String name, TraceSink sink) throws IOException {
    Objects.requireNonNull(in, "in");
    Objects.requireNonNull(name, "name");
    return parse(new ByteScanner(StreamFiles.open(in, name), name), sink);
  }

  private static long parse(ByteScanner scanner, TraceSink sink) throws IOException {
    Objects.requireNonNull(sink, "sink");
    long instructions = 0;
    while (true) {
      int first = scanner.next();
      if (ByteScanner.hex(first) >= 0) {
        readText(scanner, first, sink);
        instructions++;
      } else if (first == 'I') {
        readFetch(scanner, sink);
        instructions++;
      } else if (first == ByteScanner.END) {
        return instructions;
      } else {
        instructions += readOther(scanner, first, sink);
      }
    }
  }

  private static void readText(ByteScanner scanner, int first, TraceSink sink) throws IOException {
    int c = readHex(scanner, first);
    long address = scanner.value();
    if (c != ' ' && c != '\t') {
      throw scanner.expected("a blank behind the address", c);
    }
    c = readHex(scanner, scanner.skipBlanks(c));
    int length = scanner.length();
    if (c != '\n') {
      scanner.endLine(c);
    } else {
      scanner.countLine();
    }
    sink.instruction(address, length);
  }

  private static int readHex(ByteScanner scanner, int first) throws IOException {
    int c = scanner.readHex(first);
    return c == 'x' && first == '0' && scanner.value() == 0 ? scanner.readHex(scanner.next()) : c;
  }

  private static void readFetch(ByteScanner scanner, TraceSink sink) throws IOException {
    int c = scanner.next();
    if (c != ' ') {
      throw scanner.expected("a blank behind I", c);
    }
    c = scanner.readHex(scanner.skipBlanks(c));
    long address = scanner.value();
    if (c != ',') {
      throw scanner.expected("a comma behind the address", c);
    }
    c = scanner.readDecimal(scanner.next());
    int length = scanner.length();
    scanner.endLine(c);
    sink.instruction(address, length);
  }

  /** Reads a line that starts with neither digit nor {@code I}; returns its instructions. */
  private static int readOther(ByteScanner scanner, int first, TraceSink sink) throws IOException {
    int c = scanner.skipBlanks(first);
    switch (c) {
      case '\n' -> scanner.countLine();
      case '\r' -> scanner.endLine(c);
      case '#' -> scanner.skipLine(c);
      case 'L', 'S', 'M' -> readAccess(scanner, c);
      case '=', '-', '*' -> {
        int second = scanner.next();
        if (second != c) {
          throw scanner.expected("a remark of the tracer, '" + (char) c + "' twice,", second);
        }
        readRemark(scanner, c);
      }
      default -> {
        if (ByteScanner.hex(c) < 0 && c != ByteScanner.END) {
          throw scanner.expected("an address, a fetch, an access or a remark", c);
        }
        if (c != ByteScanner.END) {
          readText(scanner, c, sink);
          return 1;
        }
      }
    }
    return 0;
  }

  /**
   * Reads a remark behind its first two marks. The number and the marks, or a colon, behind it are
   * asked for, as two hyphens and a number alone would be a wrong address.
   */
  private static void readRemark(ByteScanner scanner, int mark) throws IOException {
    int c = scanner.readDecimal(scanner.next());
    if (c == mark) {
      c = scanner.next();
    } else if (c == ':') {
      c = mark;
    }
    if (c != mark) {
      throw scanner.expected("a remark of the tracer, '" + (char) mark + "' twice again,", c);
    }
    scanner.skipLine(c);
  }

  private static void readAccess(ByteScanner scanner, int kind) throws IOException {
    int c = scanner.next();
    if (c != ' ') {
      throw scanner.expected("a blank behind " + (char) kind, c);
    }
    c = scanner.readHex(scanner.skipBlanks(c));
    if (c != ',') {
      throw scanner.expected("a comma behind the address", c);
    }
    scanner.endLine(scanner.readDecimal(scanner.next()));
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.stream.TraceReader;
import dev.lengthwise.stream.TraceSink;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Locale;
import java.util.Objects;

/**
 * What the lock gate's programs execute on an IA-32 processor, recorded with {@code
 * examples/src/trace/record}: a tide table, the control of four gates, the sorting of readings, and
 * a parser of commands, compiled by GCC 12.2.
 */
enum RecordedTrace {
  /** Compiled for speed, with {@code -O2}. */
  TIDEGATE_O2,
  /** Compiled for size, with {@code -Os}. */
  TIDEGATE_OS;

  /** Reads something from a stream. */
  @FunctionalInterface
  private interface Reading<T> {
    T from(InputStream in, String name) throws IOException;
  }

  /** Returns the code, and how often each instruction was executed. */
  CodeStream stream() {
    return new CodeStream(
        stem(),
        read(".elf.gz", (in, name) -> CodeImage.read(in, name)),
        read(".csv.gz", TraceCounts::load));
  }

  /**
   * Passes on stretches of the trace in order: the first 40,000 instructions of each 500,000.
   * Between two stretches the address jumps as it does at a taken branch.
   *
   * @return the instructions
   */
  long replay(TraceSink sink) {
    return read(".trace.gz", (in, name) -> TraceReader.read(in, name, sink));
  }

  private String stem() {
    return name().toLowerCase(Locale.ROOT);
  }

  private <T> T read(String ending, Reading<T> reading) {
    String name = "trace/" + stem() + ending;
    try (InputStream in =
        Objects.requireNonNull(RecordedTrace.class.getResourceAsStream(name), name)) {
      return reading.from(in, name);
    } catch (IOException e) {
      throw new UncheckedIOException("recorded trace " + name + ": cannot be read", e);
    }
  }
}

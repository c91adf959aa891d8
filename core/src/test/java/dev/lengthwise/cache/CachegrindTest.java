package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Compares LRU misses on the instructions of a real program with valgrind's cachegrind.
 *
 * <p>The program is linked statically, so that both tools of valgrind, which preload different
 * libraries, run it at the same addresses. Cachegrind counts an instruction in two lines as one
 * miss if either line is missing.
 */
@CallsTools
class CachegrindTest {

  /** Capacity, ways and line bytes. */
  private static final int[][] SHAPES = {
    {16384, 4, 32}, {8192, 1, 32}, {4096, 2, 64}, {24576, 3, 32}, {32768, 8, 64}, {512, 16, 32}
  };

  private static final Pattern FETCH = Pattern.compile("I  ([0-9a-f]+),([0-9]+)");

  @TempDir Path directory;

  /** The instructions that the program executes. */
  private static final class Trace {

    private long[] addresses = new long[1 << 20];
    private int[] bytes = new int[1 << 20];
    private int count;

    void add(long address, int length) {
      if (count == bytes.length) {
        addresses = Arrays.copyOf(addresses, 2 * count);
        bytes = Arrays.copyOf(bytes, 2 * count);
      }
      addresses[count] = address;
      bytes[count++] = length;
    }

    /** Returns the instructions that miss. */
    int misses(CacheModel model) {
      int misses = 0;
      for (int i = 0; i < count; i++) {
        misses += model.access(addresses[i], bytes[i]) ? 0 : 1;
      }
      return misses;
    }
  }

  @Test
  void misses_onRealInstructions_equalCachegrind() throws IOException {
    Path program = compile();
    Trace trace = trace(program);
    assertThat(trace.count).isGreaterThan(500_000);
    for (int[] shape : SHAPES) {
      CacheModel model =
          CacheModel.of(new CacheGeometry(shape[0], shape[1], shape[2], 64, 16), Replacement.LRU);
      int misses = trace.misses(model);
      String said = cachegrind(program, "%d,%d,%d".formatted(shape[0], shape[1], shape[2]));
      assertThat(number(said, "I +refs")).isEqualTo(trace.count);
      assertWithMessage("misses of %s", model.geometry())
          .that(misses)
          .isEqualTo((int) number(said, "I1 +misses"));
      assertThat(misses).isGreaterThan(1_000);
      // Instructions in two lines are two accesses of the model.
      assertThat(model.hits() + model.misses()).isGreaterThan((long) trace.count);
    }
  }

  private Path compile() throws IOException {
    Path source = directory.resolve("workload.c");
    try (InputStream in = CachegrindTest.class.getResourceAsStream("workload.c")) {
      Files.copy(in, source);
    }
    Path program = directory.resolve("workload");
    Tool.installed(Path.of("/usr/include/regex.h"), "libc6-dev");
    Tool.named("gcc", "gcc").run(60, "-O2", "-static", "-o", program, source, "-lm");
    return program;
  }

  private Trace trace(Path program) throws IOException {
    Path log = directory.resolve("trace");
    valgrind().run(60, "--tool=lackey", "--trace-mem=yes", "--log-file=" + log, program);
    Trace trace = new Trace();
    try (BufferedReader lines = Files.newBufferedReader(log)) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        if (line.startsWith("I")) {
          Matcher matcher = FETCH.matcher(line);
          assertWithMessage("line of the trace: %s", line).that(matcher.matches()).isTrue();
          trace.add(
              Long.parseUnsignedLong(matcher.group(1), 16), Integer.parseInt(matcher.group(2)));
        }
      }
    }
    return trace;
  }

  private String cachegrind(Path program, String shape) throws IOException {
    Path log = directory.resolve("misses");
    valgrind()
        .run(
            60,
            "--tool=cachegrind",
            "--cache-sim=yes", // newer versions simulate no cache unless told
            "--I1=" + shape,
            "--cachegrind-out-file=/dev/null",
            "--log-file=" + log,
            program);
    return Files.readString(log);
  }

  private static Tool valgrind() {
    return Tool.named("valgrind", "valgrind");
  }

  private static long number(String text, String label) {
    Matcher matcher = Pattern.compile(label + ": +([0-9,]+)").matcher(text);
    assertWithMessage("%s in: %s", label, text).that(matcher.find()).isTrue();
    return Long.parseLong(matcher.group(1).replace(",", ""));
  }
}

package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.testing.Slow;
import java.io.BufferedReader;
import java.io.File;
import java.io.IOException;
import java.io.InputStreamReader;
import java.lang.management.ManagementFactory;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Holds what reading a long trace costs. {@code -Dtrace.lines=1000000000} reads as many lines;
 * {@value #LINES} if it is not given.
 */
@Slow
class TraceSpeedTest {

  private static final long LINES = 40_000_000;

  /** The heap of the process that reads; the bound asked for is 512 MiB. */
  private static final int HEAP_MIB = 64;

  @TempDir Path folder;

  /** Reads a trace that is made on the fly, in a process with little memory. */
  public static final class Reading {

    private Reading() {}

    /** Prints lines, distinct instructions, CPU milliseconds, and peak memory. */
    public static void main(String[] arguments) throws IOException {
      long lines = Long.parseLong(arguments[0]);
      TraceCounts.Counter counter = new TraceCounts.Counter();
      TraceReader.read(new GeneratedTrace(lines / 10), "warm-up", counter);
      var thread = ManagementFactory.getThreadMXBean();
      long start = thread.getCurrentThreadCpuTime();
      counter = new TraceCounts.Counter();
      long read = TraceReader.read(new GeneratedTrace(lines), "generated", counter);
      long nanos = thread.getCurrentThreadCpuTime() - start;
      TraceCounts counts = counter.counts();
      System.out.printf(
          Locale.ROOT,
          "%d %d %d %d%n",
          read,
          counts.distinct(),
          counts.instructions(),
          nanos / 1_000_000);
      System.out.println(
          Files.readAllLines(Path.of("/proc/self/status")).stream()
              .filter(line -> line.startsWith("VmHWM"))
              .findFirst()
              .orElse("VmHWM: 0 kB")
              .replaceAll("[^0-9]", ""));
    }
  }

  private static Path place(Class<?> type) throws URISyntaxException {
    return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI());
  }

  @Test
  void read_longTrace_isFastInLittleMemory() throws Exception {
    long lines = Long.getLong("trace.lines", LINES);
    List<String> command =
        List.of(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-Xmx" + HEAP_MIB + "m",
            "-XX:+UseSerialGC",
            "-cp",
            place(Reading.class) + File.pathSeparator + place(TraceReader.class),
            Reading.class.getName(),
            Long.toString(lines));
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    String first;
    String second;
    try (BufferedReader out =
        new BufferedReader(
            new InputStreamReader(process.getInputStream(), StandardCharsets.US_ASCII))) {
      first = out.readLine();
      second = out.readLine();
    }
    assertWithMessage("%s", first).that(process.waitFor()).isEqualTo(0);
    String[] said = first.split(" ", -1);
    assertThat(Long.parseLong(said[0])).isEqualTo(lines);
    assertThat(Long.parseLong(said[1])).isEqualTo((long) GeneratedTrace.DISTINCT);
    assertThat(Long.parseLong(said[2])).isEqualTo(lines);
    double perSecond = lines * 1000.0 / Long.parseLong(said[3]);
    System.out.printf(
        Locale.ROOT,
        "%d lines, %.1f million a second, %d distinct, peak %d MiB%n",
        lines,
        perSecond / 1e6,
        Long.parseLong(said[1]),
        Long.parseLong(second) / 1024);
    // Of CPU time, so that what else the machine does counts little.
    assertThat(perSecond).isAtLeast(5e6);
    assertWithMessage("peak KiB").that(Long.parseLong(second)).isLessThan(512L * 1024);
  }
}

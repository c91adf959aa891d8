package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.testing.Slow;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.SortedMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Ctrl-C leaves whole files and nothing that runs on. */
@Slow
class BrokenOffTest {

  private static final int INTERRUPTED = 128 + 2;
  private static final int TERMINATED = 128 + 15;

  /** What the promise of a second gets on a busy machine. */
  private static final double MOST_SECONDS = 10;

  /** In seconds. */
  private static final double A_MOMENT = 2;

  @TempDir Path folder;
  @TempDir Path own;

  /** Starts an example that finds the small set too. */
  private ExampleRun start(String path, String... arguments) throws IOException {
    return ExampleRun.start(path, SluiceSet.classPath(own), folder, arguments);
  }

  private ExampleRun.Result breakOff(ExampleRun run, String signal, int status) throws Exception {
    assertWithMessage("it runs").that(run.process().isAlive()).isTrue();
    ExampleRun.Result result = signal(run, signal);
    assertWithMessage(result.err()).that(result.status()).isEqualTo(status);
    return result;
  }

  /** Sends a signal to a run, and waits for its end and that of what it started. */
  private static ExampleRun.Result signal(ExampleRun run, String signal) throws Exception {
    List<ProcessHandle> started = run.process().descendants().toList();
    long start = System.nanoTime();
    String kill = "kill -" + signal + " " + run.process().pid() + " 2>/dev/null || true";
    Tool.named("sh", "dash").run(10, "-c", kill);
    ExampleRun.Result result = run.result();
    double seconds = (System.nanoTime() - start) / 1e9;
    System.out.printf(Locale.ROOT, "SIG%s: ended after %.2f s%n", signal, seconds);
    assertWithMessage(result.out() + result.err()).that(result.hasStack()).isFalse();
    assertThat(seconds).isLessThan(MOST_SECONDS);
    for (ProcessHandle process : started) {
      assertWithMessage("process %s", process.pid()).that(isEnded(process)).isTrue();
    }
    return result;
  }

  /**
   * Tells whether a process has ended, a moment after its parent at most. One that nobody has asked
   * how it ended stays in the table of processes, as a zombie, and counts as alive there.
   */
  private static boolean isEnded(ProcessHandle process) throws Exception {
    long start = System.nanoTime();
    while (process.isAlive() && !isZombie(process)) {
      if ((System.nanoTime() - start) / 1e9 > A_MOMENT) {
        return false;
      }
      Thread.sleep(5);
    }
    return true;
  }

  private static boolean isZombie(ProcessHandle process) {
    Path status = Path.of("/proc", Long.toString(process.pid()), "stat");
    try {
      return Files.readString(status).matches("(?s).*\\) Z .*");
    } catch (IOException e) { // it ended meanwhile
      return !process.isAlive();
    }
  }

  private static void await(ExampleRun run, Path file) throws InterruptedException {
    while (!Files.exists(file) && run.process().isAlive()) {
      Thread.sleep(5);
    }
  }

  private static void assertNoneHidden(SortedMap<String, String> files) {
    assertThat(files.keySet().stream().filter(file -> file.contains(".lengthwise")).toList())
        .isEmpty();
  }

  /** Asserts that each line ends and has as many fields as the first. */
  private static int rows(Path csv) throws IOException {
    String text = Files.readString(csv);
    assertThat(text).endsWith("\n");
    List<String> lines = text.lines().toList();
    for (String line : lines) {
      assertWithMessage(line)
          .that(line.chars().filter(c -> c == ',').count())
          .isEqualTo(lines.get(0).chars().filter(c -> c == ',').count());
    }
    return lines.size();
  }

  @Test
  void quickstart_leavesFilesOfAWholeRun() throws Exception {
    String path = System.getenv("PATH");
    String[] call = {"quickstart", "--set", "sluice", "--style", "ROM", "--out", "whole"};
    assertThat(start(path, call).result().status()).isEqualTo(0);
    call[6] = "some";
    SortedMap<String, String> whole = ExampleRun.files(folder.resolve("whole"));
    // Before it writes, as soon as there is a file of the lane, and then of the row.
    for (String seen : List.of(".", "some/verilog/sluice_lane.f", "some/row")) {
      ExampleRun run = start(path, call);
      await(run, folder.resolve(seen));
      Thread.sleep(seen.equals(".") ? 700 : 0);
      if (seen.endsWith("row")) {
        // The last files are there, so that it may end before the signal comes.
        assertThat(signal(run, "INT").status()).isAnyOf(INTERRUPTED, 0);
      } else {
        breakOff(run, "INT", INTERRUPTED);
      }
      SortedMap<String, String> left = ExampleRun.files(folder);
      assertNoneHidden(left);
      left.forEach(
          (file, text) -> {
            if (file.startsWith("some/")) {
              assertWithMessage(file).that(text).isEqualTo(whole.get(file.substring(5)));
            }
          });
    }
  }

  @Test
  void lanes_leavesRowsThatAreWhole() throws Exception {
    ExampleRun run =
        start("/nowhere", "lanes", "--set", "SLUICE", "--windows", "4,32", "--out", "l");
    Path file = folder.resolve("l/lanes.csv");
    await(run, file);
    breakOff(run, "INT", INTERRUPTED);
    assertThat(rows(file)).isAtLeast(2);
    assertNoneHidden(ExampleRun.files(folder));
  }

  @Test
  void mapping_leavesRowsThatAreWhole() throws Exception {
    Path table = folder.resolve("table.txt");
    StringBuilder text = new StringBuilder("inputs 10 outputs 1\n");
    new java.util.Random(1).ints(1024, 0, 2).forEach(text::append);
    Files.writeString(table, text.append('\n'));
    ExampleRun run =
        ExampleRun.start(
            folder, "mapping", "--table", table.toString(), "--thorough", "--out", "m");
    Thread.sleep(2_500);
    breakOff(run, "TERM", TERMINATED);
    Path file = folder.resolve("m/mapping.csv");
    if (Files.exists(file)) {
      assertThat(rows(file)).isEqualTo(2);
    }
    assertNoneHidden(ExampleRun.files(folder));
  }

  @Test
  void ia32Study_leavesRowsThatAreWhole_andGoesOn() throws Exception {
    Path code = SmallCode.raw(folder, "code.bin", 3);
    String[] call = {
      "ia32-study",
      "--image",
      code.toString(),
      "--only",
      "opcode,folded2",
      "--style",
      "ROM",
      "--out",
      "s"
    };
    ExampleRun run = ExampleRun.start(folder, call);
    Path file = folder.resolve("s/study.csv");
    await(run, file);
    breakOff(run, "INT", INTERRUPTED);
    assertThat(rows(file)).isEqualTo(2);
    assertNoneHidden(ExampleRun.files(folder));
    String first = Files.readAllLines(file).get(1);
    ExampleRun.Result result = ExampleRun.of(folder, call);
    assertWithMessage(result.err()).that(result.status()).isEqualTo(0);
    assertThat(rows(file)).isEqualTo(3);
    assertThat(Files.readAllLines(file)).contains(first);
  }
}

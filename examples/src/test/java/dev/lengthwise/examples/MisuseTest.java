package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.examples.terminal.HarmlessWriter;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.testing.Slow;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What examples say of files that are not what they should be, and what they leave in a log. */
@Slow
class MisuseTest {

  @TempDir Path folder;

  private String errors;

  private int run(String... arguments) {
    PrintStream before = System.err;
    ByteArrayOutputStream caught = new ByteArrayOutputStream();
    try {
      System.setErr(new PrintStream(caught, true, Charset.defaultCharset()));
      return Examples.run(arguments);
    } finally {
      System.setErr(before);
      errors = caught.toString(Charset.defaultCharset());
    }
  }

  private void assertSays(String message) {
    assertThat(errors.lines().findFirst().orElse("nothing")).isEqualTo(message);
  }

  @Test
  void image_thatIsNoIa32Code_isRefused() throws IOException {
    Path none = folder.resolve("nosuch.elf");
    assertThat(run("ia32", "--image", none.toString())).isEqualTo(2);
    assertSays(none + ": a file is expected, found none");
    assertThat(run("ia32", "--image", folder.toString())).isEqualTo(2);
    assertSays(folder + ": a regular file is expected, found another kind");
    Path archive = Files.writeString(folder.resolve("gate.a"), "!<arch>\n");
    assertThat(run("ia32", "--image", archive.toString())).isEqualTo(2);
    assertSays(
        archive
            + ": an ELF file or raw code is expected (read raw, any bytes are taken as code), found"
            + " an archive");
    byte[] elf;
    try (var in =
        new java.util.zip.GZIPInputStream(
            RecordedTrace.class.getResourceAsStream("trace/tidegate_o2.elf.gz"))) {
      elf = in.readAllBytes();
    }
    elf[18] = 62;
    Path other = Files.write(folder.resolve("other\u202e.elf"), elf);
    assertThat(run("ia32", "--image", other.toString())).isEqualTo(2);
    assertSays(
        other.toString().replace("\u202e", "\\u202e")
            + ": an ELF file for machine 3, IA-32, is expected (--raw takes all bytes of a file as"
            + " code), found machine 62, the 64-bit architecture");
  }

  @Test
  void mapping_placeThatIsTaken_isSaid_andTableMissing() throws IOException {
    Path table = Files.writeString(folder.resolve("and.txt"), "inputs 2 outputs 1\n000-\n");
    Path place = Files.createDirectory(folder.resolve("mapping.csv"));
    assertThat(run("mapping", "--table", table.toString(), "--out", folder.toString()))
        .isEqualTo(1);
    assertThat(errors.lines().toList())
        .contains(place + ": a regular file is expected, found a folder");
    Path none = folder.resolve("none.txt");
    assertThat(run("mapping", "--table", none.toString())).isEqualTo(2);
    assertSays(none + ": a file is expected, found none");
  }

  /** In a process of its own whose errors go to a file, as in a log. */
  @Test
  void study_leavesNoControlCharactersInALog_keepsRows_andRefusesOtherOptions() throws Exception {
    Path log = folder.resolve("log");
    List<String> images =
        List.of(
            "--image=" + SmallCode.raw(folder, "first.bin", 3),
            "--image=" + SmallCode.raw(folder, "second.bin", 2));
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:TieredStopAtLevel=1", // for short runs, this takes the least time
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                Examples.class.getName(),
                "ia32-study",
                images.get(0),
                images.get(1),
                "--style=ROM",
                "--only",
                "opcode",
                "--out",
                folder.toString())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    assertThat(process.waitFor(120, TimeUnit.SECONDS)).isTrue();
    String text = Files.readString(log, Charset.defaultCharset());
    assertWithMessage(text).that(process.exitValue()).isEqualTo(0);
    assertThat(text.chars().filter(c -> c < ' ' && c != '\n').count()).isEqualTo(0);
    assertThat(text).contains("written to ");
    Path file = folder.resolve("study.csv");
    List<String> first = Files.readAllLines(file);
    assertThat(first).hasSize(3);
    assertThat(study(images, "--only", "opcode_prefix")).isEqualTo(0);
    assertThat(Files.readAllLines(file)).hasSize(5);
    assertThat(Files.readAllLines(file)).containsAtLeastElementsIn(first);
    List<String> before = Files.readAllLines(file);
    assertThat(study(images, "--only", "opcode_prefix", "--decoder", "4")).isEqualTo(2);
    assertSays(
        file
            + ", line 2: a row of this study must be made with decoder=4, found decoder=2 (opcode on"
            + " first.bin)");
    assertThat(Files.readAllLines(file)).isEqualTo(before);
    assertThat(run("ia32-study", "--merge", folder.resolve("none").toString())).isEqualTo(2);
    assertSays(folder.resolve("none") + ": a file is expected, found none");
  }

  private int study(List<String> images, String... options) {
    List<String> arguments = new ArrayList<>(List.of("ia32-study", "--style=ROM"));
    arguments.addAll(images);
    arguments.addAll(List.of(options));
    arguments.addAll(List.of("--out", folder.toString()));
    return run(arguments.toArray(String[]::new));
  }

  /** Debian packages yosys and nextpnr-ice40. */
  @Test
  void timing_goesOnWithItsFile_andRefusesRowsOfAnotherMake() throws IOException {
    String[] call = {
      "timing", "--only", "riscv", "--style", "ROM", "--seeds", "1", "--out", folder.toString()
    };
    assertThat(run(call)).isEqualTo(0);
    Path file = folder.resolve("timing.csv");
    List<String> rows = Files.readAllLines(file);
    assertThat(rows).hasSize(5);
    String make = rows.get(1).substring(rows.get(1).lastIndexOf(',') + 1);
    call[6] = "2";
    assertThat(run(call)).isEqualTo(2);
    assertSays(
        file
            + ", line 2: a row of this run must be made with "
            + make.replace("seeds=1", "seeds=2")
            + ", found "
            + make
            + " (riscv rom by plain)");
    assertThat(Files.readAllLines(file)).isEqualTo(rows);
    Files.write(file, List.of("design,style"));
    assertThat(run(call)).isEqualTo(2);
    assertSays(file + ", line 1: " + rows.get(0) + " is expected, found design,style");
  }

  @Test
  void bars_areShownOnATerminalOnly() {
    Map<String, String> usual = Map.of("TERM", "xterm");
    assertThat(ProgressBars.isShown(usual, true)).isTrue();
    assertThat(ProgressBars.isShown(usual, false)).isFalse();
    assertThat(ProgressBars.isShown(Map.of("TERM", "xterm", "NO_COLOR", "1"), true)).isFalse();
    assertThat(ProgressBars.isShown(Map.of("TERM", "xterm", "NO_COLOR", ""), true)).isTrue();
    assertThat(ProgressBars.isShown(Map.of("TERM", "dumb"), true)).isFalse();
    assertThat(ProgressBars.isShown(Map.of(), true)).isFalse();
  }

  @Test
  void print_passesOnLines_andShowsTheRestByNumber() {
    ByteArrayOutputStream caught = new ByteArrayOutputStream();
    PrintWriter out = HarmlessWriter.to(caught);
    out.println("a\tb\u001b[2J");
    out.printf("%s%n", "\u0007");
    out.print('\r');
    out.flush();
    assertThat(caught.toString(StandardCharsets.UTF_8))
        .isEqualTo("a\tb\\u001b[2J\n\\u0007\n\\u000d");
  }
}

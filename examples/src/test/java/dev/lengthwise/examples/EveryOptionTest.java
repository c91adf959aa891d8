package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/**
 * Runs every example with every option that its {@code --help} lists, in a process of its own
 * (Debian packages iverilog and yosys, which the examples call). An option that no run here has is
 * a failure: add it to one.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@Slow
class EveryOptionTest {

  @TempDir Path folder;

  /** The options that were run, by example. */
  private final Map<String, TreeSet<String>> tried = new TreeMap<>();

  private ExampleRun.Result run(String... arguments) throws IOException, InterruptedException {
    return runOnPath(System.getenv("PATH"), arguments);
  }

  private ExampleRun.Result runOnPath(String path, String... arguments)
      throws IOException, InterruptedException {
    List<String> options = Arrays.stream(arguments).filter(a -> a.startsWith("--")).toList();
    tried.computeIfAbsent(arguments[0], example -> new TreeSet<>()).addAll(options);
    ExampleRun.Result result = ExampleRun.startOnPath(path, folder, arguments).result();
    String said = String.join(" ", arguments) + "\n" + result.out() + result.err();
    assertWithMessage(said).that(result.status()).isEqualTo(0);
    assertWithMessage(said).that(result.hasStack()).isFalse();
    return result;
  }

  private void assertFiles(String out, String... files) throws IOException {
    for (String file : files) {
      assertWithMessage(file).that(Files.size(folder.resolve(out).resolve(file))).isGreaterThan(0);
    }
  }

  /** Asserts what must hold after all other tests: no option is left. */
  @AfterAll
  void options_areAllRun() {
    Map<String, TreeSet<String>> listed = new TreeMap<>();
    for (Map.Entry<String, CommandLine> example : Examples.commands().getSubcommands().entrySet()) {
      TreeSet<String> names = new TreeSet<>();
      for (OptionSpec option : example.getValue().getCommandSpec().options()) {
        names.add(option.longestName());
      }
      listed.put(example.getKey(), names);
    }
    assertThat(tried).isEqualTo(listed);
  }

  @Test
  void help_ofEachExample_listsItsOptionsWithDefaults() throws Exception {
    for (Map.Entry<String, CommandLine> example : Examples.commands().getSubcommands().entrySet()) {
      // One process says that the path to it works; the others would say the same.
      String text =
          example.getKey().equals("quickstart")
              ? run("quickstart", "--help").out()
              : example.getValue().getUsageMessage();
      tried.computeIfAbsent(example.getKey(), e -> new TreeSet<>()).add("--help");
      for (OptionSpec option : example.getValue().getCommandSpec().options()) {
        assertWithMessage(example.getKey()).that(text).contains(option.longestName());
        assertWithMessage("%s %s", example.getKey(), option.longestName())
            .that(String.join("", option.description()))
            .isNotEmpty();
      }
      assertWithMessage(text).that(text).doesNotContain("null");
    }
    assertThat(ExampleRun.of(folder, "--help").out()).contains("quickstart");
  }

  @Test
  void quickstart() throws Exception {
    String out = run("quickstart", "--set", "tidegate", "--style", "ROM", "--out", "q").out();
    assertThat(out).contains("36656  all agree");
    assertThat(out).contains("10000 cycles of random code, all agree");
    assertFiles("q", "verilog/tidegate_lane.f", "vhdl/tidegate_lane.vhd", "cost.csv");
    assertFiles("q", "bench/vectors/tidegate_lane.hex", "java/tidegate/TidegateLaneModel.java");
    assertFiles("q", "row/verilog/tidegate_fetch.f", "row/bench/verilog/tidegate_fetch_tb.v");
  }

  @Test
  void ia32() throws Exception {
    String code = SmallCode.raw(folder, "ia32.bin", 3).toString();
    String out =
        run(
                "ia32",
                "--set",
                "ia32",
                "--image",
                code,
                "--raw",
                "--code16",
                "--with",
                "EVEX,SSE4A",
                "--style",
                "ROM",
                "--out",
                "i")
            .out();
    assertThat(out).contains("read as 16-bit IA-32 code");
    assertFiles("i", "verilog/ia32_lane.f", "vhdl/ia32_lane.vhd", "cost.csv");
  }

  @Test
  void mapping() throws Exception {
    Path table = Files.writeString(folder.resolve("and.txt"), "inputs 2 outputs 1\n0001\n");
    String out =
        run(
                "mapping",
                "--table",
                table.toString(),
                "--only",
                "table",
                "--thorough",
                "--explain",
                "--bits",
                "--out",
                "m")
            .out();
    assertThat(out).contains("table in LUTs of 6 inputs");
    assertThat(out)
        .contains(
            """
            bits of table
              input 0 is removable but for 0x2 and 0x3
              input 1 is removable but for 0x1 and 0x3
              smallest sets of inputs: 0x3
              alike: 0~1
              may be permuted freely: 0x3
            """);
    List<String> lines = Files.readAllLines(folder.resolve("m/mapping.csv"));
    assertThat(lines.get(1)).matches("table,6,1,1,1,1,1,[0-9.]+,true");
    assertThat(lines.get(2)).matches("table,4,1,1,1,1,1,[0-9.]+,true");
    assertThat(lines).hasSize(3);
    // The comparison with Yosys is run above, and would take long here.
    runOnPath("/nowhere", "mapping", "--set", "reference", "--out", "r");
    assertThat(Files.readAllLines(folder.resolve("r/mapping.csv")).get(1))
        .startsWith("reference_lane,6,");
  }

  @Test
  void lanes() throws Exception {
    String out =
        run(
                "lanes",
                "--set",
                "TIDEGATE",
                "--style",
                "BANKED",
                "--windows",
                "4",
                "--tool-rows",
                "--tool-limit",
                "20",
                "--out",
                "l")
            .out();
    assertThat(out).contains("tidegate");
    assertThat(out).containsMatch("Yosys, a lane alone in style rom: [0-9]+ LUTs");
    List<String> lines = Files.readAllLines(folder.resolve("l/lanes.csv"));
    assertThat(lines.size()).isGreaterThan(8);
    long columns = lines.get(0).chars().filter(c -> c == ',').count();
    lines.forEach(
        line -> assertThat(line.chars().filter(c -> c == ',').count()).isEqualTo(columns));
  }

  @Test
  void fetchUnit() throws Exception {
    String out =
        run(
                "fetch-unit",
                "--set",
                "tidegate",
                "--capacity",
                "256",
                "--ways",
                "2",
                "--line",
                "16",
                "--address",
                "16",
                "--tags",
                "BLOCK_RAM",
                "--replacement",
                "LRU",
                "--predecode",
                "PER_WAY",
                "--fill",
                "IN_ORDER",
                "--cycles",
                "300",
                "--out",
                "f")
            .out();
    assertThat(out).contains("built-in simulator: 300 random cycles, all agree");
    assertThat(out).contains("Icarus Verilog: 300 random cycles, all agree");
    assertFiles("f", "verilog/tidegate_fetch_unit.f", "paths.csv", "ram_fit.csv");
  }

  @Test
  void ia32Study() throws Exception {
    String first = SmallCode.raw(folder, "first.bin", 40).toString();
    String trace = SmallCode.trace(folder, "first.trace", 40).toString();
    String second = SmallCode.raw(folder, "second.bin", 3).toString();
    String out =
        run(
                "ia32-study",
                "--set",
                "ia32",
                "--image",
                first,
                "--trace",
                trace,
                "--image",
                second,
                "--raw",
                "--only",
                "opcode,opcode_prefix",
                "--style",
                "ROM",
                "--undefined",
                "NOT_HANDLED",
                "--decoder",
                "1",
                "--advise",
                "100000",
                "--left-out",
                "--out",
                "s")
            .out();
    assertThat(out).contains("first.trace: " + SmallCode.count(40) + " executed");
    assertThat(out).contains("second.bin: " + SmallCode.count(3) + " executed");
    assertThat(out).contains("first.trace, rows left out");
    assertThat(out).containsMatch("opcode_prefix +one_byte 0x0f +[0-9]+ ");
    assertThat(Files.readAllLines(folder.resolve("s/study.csv"))).hasSize(5);
    assertFiles("s", "report.html", "advised/cost.csv", "advised/verilog/ia32_advised.f");
  }

  @Test
  void ia32Study_slices_mergeIntoTheBytesOfOneRun() throws Exception {
    String code = SmallCode.raw(folder, "sliced.bin", 3).toString();
    List<String> base = List.of("ia32-study", "--image", code, "--code16", "--style", "ROM");
    study(base, "--only", "opcode,sib", "--out", "whole");
    study(base, "--only", "opcode,sib", "--part", "1/2", "--out", "one");
    study(base, "--only", "opcode,sib", "--part", "2/2", "--out", "two");
    study(base, "--only", "opcode,sib", "--merge", "one/study.csv,two/study.csv", "--out", "all");
    assertThat(Files.readAllLines(folder.resolve("one/study.csv"))).hasSize(2);
    for (String file : List.of("study.csv", "report.html")) {
      assertThat(Files.readString(folder.resolve("all").resolve(file)))
          .isEqualTo(Files.readString(folder.resolve("whole").resolve(file)));
    }
  }

  private void study(List<String> base, String... more) throws Exception {
    List<String> arguments = new ArrayList<>(base);
    arguments.addAll(List.of(more));
    run(arguments.toArray(String[]::new));
  }

  @Test
  void speed() throws Exception {
    String out = run("speed", "--set", "tidegate", "--seconds", "0.01").out();
    for (String text : List.of("LRU", "TREE_PLRU", "FIFO", "RANDOM", "golden", "rowWindows")) {
      assertThat(out).contains(text);
    }
  }
}

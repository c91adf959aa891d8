package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.timing.CalibrationDesigns;
import dev.lengthwise.examples.timing.TimedDesigns;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

/**
 * The README's code is the code that runs here, its output is what the code prints, and its
 * commands do what it says.
 */
@CallsTools
class ReadmeTest {

  private static final Path README = Path.of("..", "README.md");
  private static final Path SOURCE =
      Path.of("src/test/java/dev/lengthwise/examples/ReadmeExample.java");

  @TempDir Path folder;

  @Test
  void example_isTheCodeOfReadmeExample() throws IOException {
    String source = Files.readString(SOURCE);
    String code = between(source, "    // begin\n", "    // end\n").replaceAll("(?m)^ {4}", "");
    assertThat(between(Files.readString(README), "```java\n", "```")).isEqualTo(code);
  }

  @Test
  void example_printsWhatTheReadmeSays() throws IOException {
    ByteArrayOutputStream printed = new ByteArrayOutputStream();
    ReadmeExample.run(folder, new PrintStream(printed, true, StandardCharsets.UTF_8));
    String text = printed.toString(StandardCharsets.UTF_8).replace(System.lineSeparator(), "\n");
    assertThat(text).isEqualTo(between(Files.readString(README), "```text\n", "```"));
    assertThat(Files.exists(folder.resolve("verilog/sluice_lane.f"))).isTrue();
    assertThat(Files.exists(folder.resolve("bench/verilog/sluice_lane_tb.v"))).isTrue();
  }

  /** The level of this build's own pom; without it, Maven's own default cannot read our classes. */
  @Test
  void sampleBuild_statesTheLevelOfTheCompiler() throws IOException {
    String level = "<maven.compiler.release>17</maven.compiler.release>";
    String pom = between(Files.readString(README), "```xml\n", "```");
    assertThat(pom).contains(level);
    assertThat(Files.readString(Path.of("..", "pom.xml"))).contains(level);
    assertThat(pom).contains("<artifactId>lengthwise-core</artifactId>");
    assertThat(pom).startsWith("<project ");
    assertThat(pom).endsWith("</project>\n");
  }

  /** The commands for a simulator, as the README prints them (Debian package iverilog). */
  @Test
  void example_inASimulator_passes() throws Exception {
    ReadmeExample.run(folder, new PrintStream(new ByteArrayOutputStream()));
    List<String> commands = commands("iverilog", "vvp");
    assertThat(commands).hasSize(2);
    Tool.named("vvp", "iverilog");
    String said = Tool.named("sh", "dash").runIn(folder, 60, "-ec", String.join("\n", commands));
    assertThat(said).contains("vectors: 21538");
    Path vectors = folder.resolve("bench/vectors/sluice_lane.hex");
    List<String> lines = new ArrayList<>(Files.readAllLines(vectors));
    // A vector that expects something else makes the bench fail, as the README says.
    String first = lines.get(0);
    String wrong = first.startsWith("01", 2) ? "02" : "01"; // the length behind the kind
    lines.set(0, first.substring(0, 2) + wrong + first.substring(4));
    Files.write(vectors, lines);
    AssertionError e =
        assertThrows(
            AssertionError.class,
            () -> Tool.named("sh", "dash").runIn(folder, 60, "-ec", String.join("\n", commands)));
    assertThat(e).hasMessageThat().contains("exit status 0 is expected");
  }

  @Test
  void row_isTheCodeOfReadmeExample() throws IOException {
    String code =
        between(Files.readString(SOURCE), "    // begin row\n", "    // end row\n")
            .replaceAll("(?m)^ {4}", "");
    String printed = between(Files.readString(README), "```\nLaneArray", "```");
    assertThat(("LaneArray" + printed).replaceAll("\\s+", ""))
        .isEqualTo(code.replaceAll("\\s+", ""));
    LengthTable table =
        LengthTable.named("sluice")
            .map("base", map -> map.rows(0x00, 0x7f).bytes(1).others().bytes(2))
            .build();
    InstructionSet set = InstructionSet.of(table, PrefixRules.builder().build(), 2);
    assertThat(
            ReadmeExample.row(Predecoder.builder(set).build()).array().orElseThrow().windowBytes())
        .isEqualTo(16);
  }

  /** Debian packages yosys and nextpnr-ice40. */
  @Test
  void clock_isTheCodeOfReadmeExample_andMeasures() throws IOException {
    String code =
        between(Files.readString(SOURCE), "    // begin clock\n", "    // end clock\n")
            .replaceAll("(?m)^ {4}", "");
    String section = between(Files.readString(README), "\n## Clock, measured\n", "\n## ");
    assertThat(between(section, "```java\n", "```")).isEqualTo(code);
    Predecoder lane =
        Predecoder.builder(
                InstructionSet.of(
                    LengthTable.named("sluice")
                        .map("base", map -> map.rows(0x00, 0x6e).bytes(1).others().bytes(2))
                        .build(),
                    PrefixRules.builder().build(),
                    2))
            .build();
    ByteArrayOutputStream printed = new ByteArrayOutputStream();
    ReadmeExample.clock(lane, folder, new PrintStream(printed, true, StandardCharsets.UTF_8));
    List<String> lines = printed.toString(StandardCharsets.UTF_8).lines().toList();
    assertThat(lines).hasSize(5);
    assertThat(lines.get(0)).matches("[0-9]+ LUTs and [0-9.]+ to [0-9.]+ MHz are estimated");
    assertThat(lines.get(3))
        .matches(
            "sluice_lane, no_carry: [0-9]+ LUTs, 0 registers, [0-9.]+ MHz \\([0-9.]+ to [0-9.]+\\)");
  }

  /** Clocks of a device whose level takes 2 ns and its registers 1, as if a flow had said so. */
  @Test
  void calibration_isTheCodeOfReadmeExample_andFindsDelays() throws IOException {
    String code =
        between(Files.readString(SOURCE), "    // begin calibration\n", "    // end calibration\n")
            .replaceAll("(?m)^ {4}", "");
    String section = between(Files.readString(README), "\n## Clock, measured\n", "\n## ");
    assertThat(section).contains("```java\n" + code + "```");
    Map<String, Design> designs = new TreeMap<>();
    StringBuilder clocks = new StringBuilder("design,mhz\n");
    CalibrationDesigns.all()
        .forEach(
            (name, made) -> {
              if (name.matches("drawn_(.|word|._bits)_(rom|banked)")) {
                Design design = made.get();
                designs.put(name, design);
                double mhz = 1000 / (1 + 2.0 * design.total().levels());
                clocks.append(String.format(Locale.ROOT, "%s,%.4f%n", name, mhz));
              }
            });
    Path file = Files.writeString(folder.resolve("clocks.csv"), clocks);
    ByteArrayOutputStream printed = new ByteArrayOutputStream();
    DeviceProfile mine =
        ReadmeExample.calibrated(
            file, designs, new PrintStream(printed, true, StandardCharsets.UTF_8));
    assertThat(mine.levelDelay().fastest()).isWithin(0.01).of(2);
    assertThat(mine.registerDelay().slowest()).isWithin(0.01).of(1);
    assertThat(mine.blockRamDelay()).isEqualTo(DeviceProfile.fourInput().blockRamDelay());
    assertThat(printed.toString(StandardCharsets.UTF_8))
        .matches(
            "four_input: 10 clocks, mean error 0\\.[01]%, 100\\.0% in their range of 1\\.00 to 1\\R");
    // What is fitted to is none of what is measured.
    assertThat(CalibrationDesigns.all()).hasSize(22);
    assertThat(TimedDesigns.all().keySet()).containsNoneIn(CalibrationDesigns.all().keySet());
  }

  /** The first of the two commands, as Maven runs it. */
  @Test
  void quickstart_writesWhereTheReadmeSays() throws Exception {
    String text = Files.readString(README);
    assertThat(commands("exec:java").get(0))
        .isEqualTo("mvn -q -Pquick -pl examples -am compile exec:java");
    String pom = Files.readString(Path.of("..", "pom.xml"));
    assertThat(pom).contains("<exec.mainClass>" + Examples.class.getName() + "</exec.mainClass>");
    assertThat(text).contains("write it to `examples/target/quickstart/`");
    ExampleRun.Result result = ExampleRun.of(folder);
    assertWithMessage(result.err()).that(result.status()).isEqualTo(0);
    Path tree = folder.resolve("examples/target/quickstart");
    for (String file :
        List.of(
            "bench/vectors/tidegate_lane.hex",
            "vhdl/tidegate_lane.vhd",
            "row/vhdl/tidegate_fetch.vhd",
            "row/bench/verilog/tidegate_fetch_tb.v")) {
      assertWithMessage(file).that(Files.exists(tree.resolve(file))).isTrue();
    }
    assertThat(Files.readString(tree.resolve("cost.csv"))).contains("tidegate_lane,banked,6,");
  }

  @Test
  void commands_nameWhatThereIs() throws IOException {
    assertThat(Files.isExecutable(Path.of("..", ".ci", "run"))).isTrue();
    String text = Files.readString(README);
    String pom = Files.readString(Path.of("..", "pom.xml"));
    String version =
        between(text, "<artifactId>lengthwise-core</artifactId>\n      <version>", "</version>");
    assertThat(pom).contains("<version>" + version + "</version>");
    Matcher modules = Pattern.compile("`?lengthwise-([a-z-]+)").matcher(text);
    while (modules.find()) {
      String module = modules.group(1);
      assertThat(Files.readString(Path.of("..", module, "pom.xml")))
          .contains("<artifactId>lengthwise-" + module + "</artifactId>");
    }
  }

  /** Each example has its place in the README, with options and defaults that it has. */
  @Test
  void examples_haveTheOptionsThatTheReadmeNames() throws IOException {
    String list = between(Files.readString(README), "\n## Examples\n", "\n## ");
    Map<String, String> texts = new TreeMap<>();
    String[] entries = list.split("\n\\* `", -1);
    for (String entry : Arrays.asList(entries).subList(1, entries.length)) {
      texts.put(entry.substring(0, entry.indexOf('`')), entry);
    }
    for (Map.Entry<String, CommandLine> example : Examples.commands().getSubcommands().entrySet()) {
      String text = texts.get(example.getKey());
      assertWithMessage(example.getKey()).that(text).isNotNull();
      Matcher options = Pattern.compile("--[a-z0-9-]+").matcher(text);
      while (options.find()) {
        assertWithMessage("%s %s", example.getKey(), options.group())
            .that(example.getValue().getCommandSpec().findOption(options.group()))
            .isNotNull();
      }
    }
    assertThat(texts.keySet())
        .containsExactlyElementsIn(Examples.commands().getSubcommands().keySet());
    assertThat(texts.get("ia32-study")).contains(": 14 IA-32 lanes");
    assertThat(NamedSet.of("ia32").lanes(UndefinedRows.ANYTHING)).hasSize(14);
    assertThat(texts.get("lanes").replaceAll("\\s+", " "))
        .contains("windows of 8, 16 and 32 bytes");
    assertThat(Examples.commands().getSubcommands().get("lanes").getUsageMessage())
        .contains("([8, 16, 32])");
  }

  @Test
  void figures_thatAreQuick_areAsMeasured() throws Exception {
    for (ReadmeFigure figure : MeasuredFigures.quick()) {
      figure.check(ReadmeFigure.prose());
    }
  }

  /** A figure that no test measures would drift. */
  @Test
  void figures_areAllMeasured() {
    List<ReadmeFigure> figures = new ArrayList<>(MeasuredFigures.quick());
    figures.addAll(MeasuredFigures.slow());
    String readme = ReadmeFigure.prose();
    assertThat(ReadmeFigure.unchecked(readme, figures)).isEmpty();
    assertThat(ReadmeFigure.unchecked(readme + " The lane takes 7 LUTs.", figures)).hasSize(1);
    assertThat(ReadmeFigure.unchecked("It says 3% and 1 level.", figures)).hasSize(2);
  }

  @Test
  void figure_thatDrifted_isNamedWithBothValues() throws Exception {
    ReadmeFigure figure =
        ReadmeFigure.exact("A gate takes {} LUTs in {}.", () -> List.of(7, "2.5"));
    figure.check("There. A gate takes 7 LUTs in 2.5. Here.");
    AssertionError drifted =
        assertThrows(AssertionError.class, () -> figure.check("A gate takes 8 LUTs in 2.5."));
    assertThat(drifted)
        .hasMessageThat()
        .isEqualTo(
            "README states \"A gate takes 8 LUTs in 2.5.\"\n"
                + "expected: A gate takes 7 LUTs in 2.5.\nbut was : A gate takes 8 LUTs in 2.5.");
    assertThat(assertThrows(AssertionError.class, () -> figure.check("A gate.")))
        .hasMessageThat()
        .contains("README: the sentence must stand once: A gate takes {} LUTs in {}.");
    ReadmeFigure bound = ReadmeFigure.atLeast("over {} million", () -> List.of(9.5));
    bound.check("over 9 million");
    assertThat(assertThrows(AssertionError.class, () -> bound.check("over 10 million")))
        .hasMessageThat()
        .startsWith("README states \"over 10 million\"");
  }

  /** Without a tool, an example says which package has it, and does the rest of its work. */
  @Test
  void tools_thatAreMissing_areNamedWithTheirPackage() throws Exception {
    Path table = Files.writeString(folder.resolve("and.txt"), "inputs 2 outputs 1\n0001\n");
    ExampleRun.Result mapping =
        ExampleRun.startOnPath("/nowhere", folder, "mapping", "--table", table.toString()).result();
    assertThat(mapping.status()).isEqualTo(0);
    assertThat(mapping.out())
        .contains("Yosys is not installed (Debian package yosys), so nothing was compared");
    assertThat(Files.readAllLines(folder.resolve("examples/target/mapping/mapping.csv")).get(1))
        .matches("table,6,1,1,1,,,[0-9.]+,true");
    ExampleRun.Result fetch =
        ExampleRun.startOnPath(
                "/nowhere",
                folder,
                "fetch-unit",
                "--capacity",
                "256",
                "--ways",
                "1",
                "--line",
                "16",
                "--address",
                "12",
                "--cycles",
                "300")
            .result();
    assertThat(fetch.status()).isEqualTo(0);
    assertThat(fetch.out())
        .containsMatch("not simulated: iverilog: .*\\(Debian package iverilog\\)");
    assertThat(fetch.hasStack()).isFalse();
  }

  /** Returns the lines that the README prints as commands and that have one of some words. */
  private static List<String> commands(String... words) throws IOException {
    return Files.readString(README)
        .lines()
        .filter(line -> line.startsWith("    "))
        .map(String::strip)
        .filter(line -> Arrays.stream(words).anyMatch(line::contains))
        .filter(line -> !line.startsWith("<") && !line.endsWith(";"))
        .toList();
  }

  private static String between(String text, String begin, String end) {
    int from = text.indexOf(begin) + begin.length();
    return text.substring(from, text.indexOf(end, from));
  }
}

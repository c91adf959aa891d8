package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The README's example is the code that runs here, and its output is what the code prints. */
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

  @Test
  void quickstart_endsWithZeroAndWritesTheTree() throws IOException {
    assertThat(Examples.run("quickstart", "--out", folder.toString())).isEqualTo(0);
    assertThat(Files.exists(folder.resolve("bench/vectors/tidegate_lane.hex"))).isTrue();
    assertThat(Files.exists(folder.resolve("vhdl/tidegate_lane.vhd"))).isTrue();
    assertThat(Files.exists(folder.resolve("row/vhdl/tidegate_fetch.vhd"))).isTrue();
    assertThat(Files.exists(folder.resolve("row/bench/verilog/tidegate_fetch_tb.v"))).isTrue();
    assertThat(Files.readString(folder.resolve("cost.csv"))).contains("tidegate_lane,banked,6,");
  }

  @Test
  void examples_wrongCalls_endWithTwo() {
    assertThat(Examples.run("nosuch")).isEqualTo(2);
    assertThat(Examples.run("ia32", "--image", folder.resolve("none").toString())).isEqualTo(2);
  }

  private static String between(String text, String begin, String end) {
    int from = text.indexOf(begin) + begin.length();
    return text.substring(from, text.indexOf(end, from));
  }
}

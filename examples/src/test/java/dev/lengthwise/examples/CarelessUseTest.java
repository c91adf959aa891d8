package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.testing.Slow;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import picocli.CommandLine.Model.OptionSpec;

/** Wrong calls end with 2 and one line that says what is wrong, and write nothing. */
@Slow
class CarelessUseTest {

  private static final List<String> WRITING =
      List.of("quickstart", "ia32", "mapping", "lanes", "fetch-unit", "ia32-study", "timing");

  @TempDir Path folder;
  private Path code;

  @BeforeEach
  void writeCode() throws IOException {
    code = SmallCode.raw(folder, "code.bin", 1);
  }

  /** Runs an example in this process, which spares the start of another, and returns its errors. */
  private String wrong(String... arguments) throws IOException {
    SortedMap<String, String> before = ExampleRun.files(folder);
    PrintStream old = System.err;
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    System.setErr(new PrintStream(said, true, StandardCharsets.UTF_8));
    int status;
    try {
      status = Examples.run(arguments);
    } finally {
      System.setErr(old);
    }
    String text = said.toString(StandardCharsets.UTF_8);
    String call = String.join(" ", arguments) + "\n" + text;
    assertWithMessage(call).that(status).isEqualTo(2);
    assertWithMessage(call).that(ExampleRun.files(folder)).isEqualTo(before);
    return text.replace(folder.toString(), "FOLDER").lines().findFirst().orElse("");
  }

  private String wrongOf(String example, String... options) throws IOException {
    List<String> arguments = new java.util.ArrayList<>(List.of(example));
    arguments.addAll(List.of(options));
    arguments.addAll(List.of("--out", folder.resolve("out").toString()));
    return wrong(arguments.toArray(String[]::new));
  }

  @Test
  void name_ofNoExample_isSaid() throws Exception {
    assertThat(wrong("nosuch"))
        .isEqualTo("examples: the name of an example is expected, found nosuch");
    assertThat(wrong("--nosuch"))
        .isEqualTo("examples: the name of an example is expected, found --nosuch");
    ExampleRun.Result result = ExampleRun.of(folder, "nosuch");
    assertThat(result.status()).isEqualTo(2);
    assertThat(result.hasStack()).isFalse();
    assertThat(result.err())
        .isEqualTo(
            "examples: the name of an example is expected, found nosuch\nsee examples --help\n");
  }

  /** Whatever option there is, now or later, a value that cannot be meant is said with its name. */
  @Test
  void values_ofAnotherKind_areSaidWithTheOption() throws Exception {
    for (Map.Entry<String, CommandLine> example : Examples.commands().getSubcommands().entrySet()) {
      String name = example.getKey();
      assertThat(wrong(name, "--nosuch"))
          .isEqualTo(name + ": an option that --help lists is expected, found --nosuch");
      for (OptionSpec option : example.getValue().getCommandSpec().options()) {
        String own = option.longestName();
        if (option.arity().max() == 0) {
          continue;
        }
        assertThat(wrong(name, own)).isEqualTo(own + ": a value is expected, found none");
        String text = wrongOption(name, own);
        assertWithMessage("%s %s: %s", name, own, text).that(text).containsMatch(", found .+");
        assertWithMessage("%s %s", name, own).that(text).doesNotContain("Exception");
      }
    }
  }

  private String wrongOption(String example, String option) throws IOException {
    String missing = folder.resolve("missing").toString();
    return switch (option) {
      case "--out" -> wrong(example, "--out", code.toString());
      case "--image", "--table", "--merge" -> wrongOf(example, option, missing);
      case "--trace" -> wrongOf(example, "--image", code.toString(), option, missing);
      default ->
          example.equals("speed")
              ? wrong(example, option, "nosuch")
              : wrongOf(example, option, "nosuch");
    };
  }

  @Test
  void values_outOfRange_areSaid() throws Exception {
    String image = code.toString();
    assertThat(wrongOf("quickstart", "--style", "rom"))
        .isEqualTo("--style: one of [ROM, BANKED, LUT_NETWORK] is expected, found rom");
    assertThat(wrongOf("lanes", "--windows", "four"))
        .isEqualTo("--windows: a whole number is expected, found four");
    // The first window is right, so a run that looked at it alone would begin to write.
    assertThat(wrongOf("lanes", "--set", "TIDEGATE", "--windows", "4,3")).contains("found 3");
    assertThat(wrongOf("lanes", "--levels-per-cycle", "1"))
        .contains("the levels a cycle must be in [2, 16], found 1");
    assertThat(wrongOf("lanes", "--tool-limit", "0"))
        .isEqualTo("--tool-limit: must be at least 1 second, found 0");
    assertThat(wrongOf("fetch-unit", "--ways", "17")).contains("found 17");
    assertThat(wrongOf("fetch-unit", "--cycles", "0"))
        .isEqualTo("--cycles: must be at least 1, found 0");
    assertThat(wrongOf("fetch-unit", "--capacity", "-1")).contains("found -1");
    assertThat(wrongOf("fetch-unit", "--address", "99999999999"))
        .isEqualTo("--address: a whole number is expected, found 99999999999");
    assertThat(wrongOf("mapping", "--only", "nosuch"))
        .isEqualTo("--only: the name must be one of the table's, found nosuch");
    assertThat(wrongOf("mapping", "--suite", "--set", "reference"))
        .isEqualTo("--suite: must not be given with --set or --table, found reference");
    for (String option : List.of("--tool-levels", "--stored-tool")) {
      assertThat(wrongOf("mapping", option))
          .isEqualTo(option + ": must be given with --suite, found it alone");
    }
    assertThat(wrongOf("mapping", "--record", "2"))
        .isEqualTo("--record: must be given with --suite, found it alone");
    assertThat(wrongOf("mapping", "--seconds", "0"))
        .isEqualTo("--seconds: must be at least 1, found 0");
    assertThat(wrongOf("mapping", "--seconds", "2", "--thorough"))
        .isEqualTo("--seconds: must not be given with --thorough, found 2");
    assertThat(wrongOf("mapping", "--seconds", "2", "--suite", "--record", "3"))
        .isEqualTo("--seconds: must not be given with --record, found 2");
    assertThat(wrongOf("mapping", "--suite", "--record", "0"))
        .isEqualTo("--record: must be at least 1, found 0");
    assertThat(wrongOf("timing", "--seeds", "0"))
        .isEqualTo("--seeds: must be in [1, 1000], found 0");
    assertThat(wrongOf("timing", "--fewer-levels", "-1"))
        .isEqualTo("--fewer-levels: must be at least 0, found -1");
    for (String other : List.of("--set=tidegate", "--style=ROM", "--fewer-levels=2")) {
      String option = other.substring(0, other.indexOf('='));
      assertThat(wrongOf("timing", "--calibration", other))
          .isEqualTo("--calibration: must not be given with " + option + ", found both");
    }
    assertThat(wrongOf("timing", "--only", "mcs51,nosuch"))
        .isEqualTo(
            "--only: one of [riscv, mcs51, jvm, sluice, reference_without_displacement, reference,"
                + " tidegate, ia32_defined, tidegate_row, tidegate_row_ripple, tidegate_row_joined,"
                + " tidegate_row_joined_cut, tidegate_row_first_two, tidegate_row_by_entry,"
                + " tidegate_row_by_entry_sixteen, tidegate_row_four, sluice_row,"
                + " sluice_row_cut, ia32_row_cut, tidegate_fetch_unit,"
                + " tidegate_fetch_unit_four_ways, sluice_fetch_unit] is expected, found nosuch");
    assertThat(wrongOf("ia32-study", "--image", image, "--advise", "0"))
        .isEqualTo("--advise: LUTs must be at least 1, found 0");
    assertThat(wrongOf("ia32-study", "--image", image, "--decoder", "0")).contains("found 0");
    assertThat(wrongOf("ia32-study", "--image", image, "--part", "3/2"))
        .isEqualTo("sweep: a slice must be i/n with i in [1, n], found 3/2");
    assertThat(wrongOf("ia32-study", "--image", image, "--part", "1/2", "--merge", "a"))
        .isEqualTo("--part: must not be given with --merge, found 1/2");
    assertThat(wrongOf("ia32-study", "--code16"))
        .isEqualTo("ia32-study: name the code with --image, found none");
    assertThat(wrongOf("ia32-study", "--trace", image))
        .isEqualTo("ia32-study: --image is expected before its --trace, found none");
    for (String seconds : List.of("0", "-1", "NaN", "1e9")) {
      assertThat(wrong("speed", "--seconds", seconds))
          .isEqualTo("--seconds: must be in [0.001, 3600.0], found " + Double.valueOf(seconds));
    }
  }

  @Test
  void files_thatCannotBeRead_areNamed() throws Exception {
    assertThat(wrongOf("ia32", "--image", folder.resolve("none").toString()))
        .isEqualTo("FOLDER/none: a file is expected, found none");
    assertThat(wrongOf("ia32-study", "--image", folder.resolve("none").toString()))
        .isEqualTo("FOLDER/none: a file is expected, found none");
    assertThat(wrongOf("mapping", "--table", folder.resolve("none").toString()))
        .isEqualTo("FOLDER/none: a file is expected, found none");
    assertThat(wrongOf("mapping", "--table", folder.toString()))
        .isEqualTo("FOLDER: a file is expected, found a folder");
    assertThat(wrongOf("ia32", "--image", folder.toString()))
        .isEqualTo("FOLDER: a regular file is expected, found another kind");
    Path bytes = Files.write(folder.resolve("bytes"), new byte[] {-1, -2, -3});
    assertThat(wrongOf("mapping", "--table", bytes.toString()))
        .isEqualTo("FOLDER/bytes: ASCII text is expected, found other bytes");
    Path empty = Files.write(folder.resolve("empty"), new byte[0]);
    assertThat(wrongOf("ia32", "--image", empty.toString())).contains("empty");
    assertThat(wrongOf("ia32-study", "--image", empty.toString())).contains("empty");
  }

  @Test
  void out_thatIsAFileOrCannotBeWrittenTo_isSaidBeforeTheWork() throws Exception {
    for (String example : WRITING) {
      assertThat(wrong(example, "--out", code.toString()))
          .isEqualTo("--out: a folder is expected, found a file FOLDER/code.bin");
      assertThat(wrong(example, "--out", code.resolve("below").toString()))
          .isEqualTo("--out: a folder is expected, found a file FOLDER/code.bin");
      // Not even root makes a file there.
      assertThat(wrong(example, "--out", "/proc/lengthwise"))
          .isEqualTo("--out: a folder that can be written to is expected, found /proc");
    }
    for (String example : WRITING) {
      assertThat(wrong(example, "--out", "a", "--out", "b"))
          .isEqualTo("--out: must be given once, found it again");
    }
  }

  private static void assertEnds(ExampleRun.Result run) {
    assertWithMessage(run.err()).that(run.status()).isEqualTo(0);
  }

  @Test
  void runs_twiceAndTwoAtOnce_leaveTheFilesOfOne(@TempDir Path own) throws Exception {
    String path = System.getenv("PATH");
    String classPath = SluiceSet.classPath(own);
    String[] call = {"quickstart", "--set", "sluice", "--style", "ROM", "--out", "twice"};
    ExampleRun one = ExampleRun.start(path, classPath, folder, call);
    ExampleRun other = ExampleRun.start(path, classPath, folder, call);
    assertEnds(one.result());
    assertEnds(other.result());
    SortedMap<String, String> both = ExampleRun.files(folder);
    assertThat(ExampleRun.start(path, classPath, folder, call).result().status()).isEqualTo(0);
    assertThat(ExampleRun.files(folder)).isEqualTo(both);
    assertThat(both.keySet().stream().filter(file -> file.contains(".lengthwise")).toList())
        .isEmpty();
  }
}

package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
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

/** Runs of examples as a user starts them, which know the options that none of them had. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
abstract class OptionRuns {

  @TempDir Path folder;

  /** The options that were run, by example. */
  private final Map<String, TreeSet<String>> tried = new TreeMap<>();

  ExampleRun.Result run(String... arguments) throws IOException, InterruptedException {
    return runOnPath(System.getenv("PATH"), arguments);
  }

  ExampleRun.Result runOnPath(String path, String... arguments)
      throws IOException, InterruptedException {
    List<String> options = Arrays.stream(arguments).filter(a -> a.startsWith("--")).toList();
    tried.computeIfAbsent(arguments[0], example -> new TreeSet<>()).addAll(options);
    String classPath = SluiceSet.classPath(folder.resolve("own"));
    ExampleRun.Result result = ExampleRun.start(path, classPath, folder, arguments).result();
    String said = String.join(" ", arguments) + "\n" + result.out() + result.err();
    assertWithMessage(said).that(result.status()).isEqualTo(0);
    assertWithMessage(said).that(result.hasStack()).isFalse();
    return result;
  }

  void assertFiles(String out, String... files) throws IOException {
    for (String file : files) {
      assertWithMessage(file).that(Files.size(folder.resolve(out).resolve(file))).isGreaterThan(0);
    }
  }

  /** Tells whether the runs of this class are those of an example. */
  abstract boolean covers(String example);

  private List<Map.Entry<String, CommandLine>> covered() {
    return Examples.commands().getSubcommands().entrySet().stream()
        .filter(example -> covers(example.getKey()))
        .toList();
  }

  /** Asserts what must hold after all other tests: no option is left. */
  @AfterAll
  void options_areAllRun() {
    Map<String, TreeSet<String>> listed = new TreeMap<>();
    for (Map.Entry<String, CommandLine> example : covered()) {
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
    for (Map.Entry<String, CommandLine> example : covered()) {
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
}

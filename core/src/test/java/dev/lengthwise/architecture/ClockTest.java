package dev.lengthwise.architecture;

import static com.google.common.truth.Truth.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** What the profile {@code quick} runs asserts no time: that is for classes with a tag. */
class ClockTest {

  private static final Pattern CLOCK =
      Pattern.compile("nanoTime|currentTimeMillis|assertTimeout|Interruption[.]assert");

  private static final Pattern TAG = Pattern.compile("@(Timed|Slow|CallsTools|Figures)\\b");

  @Test
  void testsWithoutATag_readNoClock() throws IOException {
    List<Path> tests;
    try (Stream<Path> modules = Files.list(Path.of(".."))) {
      tests =
          modules
              .map(module -> module.resolve("src/test/java"))
              .filter(Files::isDirectory)
              .flatMap(ClockTest::below)
              .filter(file -> file.toString().endsWith("Test.java"))
              .filter(file -> !file.endsWith("ClockTest.java"))
              .toList();
    }
    assertThat(tests.size()).isAtLeast(100);
    assertThat(tests.stream().filter(ClockTest::isTimed).toList()).isNotEmpty();
    assertThat(
            tests.stream()
                .filter(file -> isTimed(file) && !TAG.matcher(text(file)).find())
                .toList())
        .isEmpty();
  }

  private static boolean isTimed(Path file) {
    return CLOCK.matcher(text(file)).find();
  }

  private static Stream<Path> below(Path folder) {
    try (Stream<Path> files = Files.walk(folder)) {
      return files.toList().stream();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String text(Path file) {
    try {
      return Files.readString(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

package dev.lengthwise.file;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class WriteLockTest {

  @TempDir Path folder;

  private Path file() {
    return folder.resolve("new").resolve("study.csv");
  }

  private void assertBusy() {
    assertThat(assertThrows(IOException.class, () -> WriteLock.of(file())))
        .hasMessageThat()
        .isEqualTo(
            folder.resolve("new")
                + ": one run that writes study.csv at a time is expected, found another one at work");
  }

  @Test
  void of_heldInThisProgram_isRefused_andLeavesNothing() throws IOException {
    try (WriteLock held = WriteLock.of(file())) {
      assertThat(held).isNotNull();
      assertBusy();
      WriteLock.of(folder.resolve("other.csv")).close();
    }
    WriteLock.of(file()).close();
    try (Stream<Path> left = Files.list(folder.resolve("new"))) {
      assertThat(left.toList()).isEmpty();
    }
  }

  /** Holds the lock until its input ends. */
  static final class Holder {

    private Holder() {}

    public static void main(String[] arguments) throws IOException {
      WriteLock held = WriteLock.of(Path.of(arguments[0]));
      System.out.println("held");
      System.out.flush();
      while (System.in.read() >= 0) {}
      held.close();
    }
  }

  private Process holder() throws IOException {
    String places =
        Stream.of(WriteLock.class, Holder.class)
            .map(type -> type.getProtectionDomain().getCodeSource().getLocation())
            .map(url -> Path.of(java.net.URI.create(url.toString())).toString())
            .distinct()
            .reduce((a, b) -> a + java.io.File.pathSeparator + b)
            .orElseThrow();
    Process process =
        new ProcessBuilder(
                List.of(
                    Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                    "-cp",
                    places,
                    Holder.class.getName(),
                    file().toString()))
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    assertThat(process.inputReader().readLine()).isEqualTo("held");
    return process;
  }

  @Test
  void of_heldByAnotherProgram_isRefused_untilItIsKilled() throws Exception {
    Process process = holder();
    assertBusy();
    process.destroyForcibly().waitFor();
    WriteLock.of(file()).close();
  }
}

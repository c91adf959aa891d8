package dev.lengthwise.testbench.run;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SharedFolderTest {

  @TempDir Path parent;

  /** A process that fills a folder slowly, and says so if it does. */
  static final class Slowly {

    private Slowly() {}

    public static void main(String[] arguments) throws IOException {
      Path folder =
          SharedFolder.filled(
              Path.of(arguments[0]),
              part -> {
                System.out.println("filled");
                try {
                  Thread.sleep(300);
                } catch (InterruptedException e) {
                  throw new IOException(e);
                }
                Files.writeString(part.resolve("file"), "all");
              });
      System.out.println(Files.readString(folder.resolve("file")));
    }
  }

  @Test
  void filled_inProcessesAtTheSameTime_isFilledByOne() throws Exception {
    List<Process> processes = new ArrayList<>();
    for (int i = 0; i < 3; i++) {
      processes.add(
          new ProcessBuilder(
                  Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                  "-XX:TieredStopAtLevel=1",
                  "-XX:+UseSerialGC",
                  "-cp",
                  System.getProperty("java.class.path"),
                  Slowly.class.getName(),
                  parent.resolve("of/all").toString())
              .redirectErrorStream(true)
              .start());
    }
    List<String> said = new ArrayList<>();
    for (Process process : processes) {
      said.add(new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8));
      assertWithMessage("%s", said).that(process.waitFor()).isEqualTo(0);
    }
    assertThat(said).containsExactly("filled\nall\n", "all\n", "all\n");
    assertThat(Files.exists(parent.resolve("of/all/file"))).isTrue();
  }

  @Test
  void filled_afterAFailure_hasNothingOfIt() throws IOException {
    Path folder = parent.resolve("one");
    IllegalStateException failure =
        assertThrows(
            IllegalStateException.class,
            () ->
                SharedFolder.filled(
                    folder,
                    part -> {
                      Files.writeString(part.resolve("half"), "half");
                      throw new IllegalStateException("a module must compile");
                    }));
    assertThat(failure).hasMessageThat().isEqualTo("a module must compile");
    assertThat(names(parent)).containsExactly(".one.lock");
    SharedFolder.filled(folder, part -> Files.writeString(part.resolve("whole"), "whole"));
    assertThat(names(folder)).containsExactly("whole");
    assertThat(names(parent)).containsExactly(".one.lock", "one");
  }

  private static List<String> names(Path folder) throws IOException {
    try (var files = Files.list(folder)) {
      return files.map(file -> file.getFileName().toString()).toList();
    }
  }
}

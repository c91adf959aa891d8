package dev.lengthwise.testbench.tool;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.stream.Stream;

/**
 * A folder for the files of programs, which is gone when it is closed.
 *
 * @param path where it is
 */
public record WorkFolder(Path path) implements AutoCloseable {

  /**
   * Makes a folder among the system's temporary files.
   *
   * @return the folder, to be closed
   * @throws UncheckedIOException if it cannot be made
   */
  public static WorkFolder make() {
    try {
      return new WorkFolder(Files.createTempDirectory("lengthwise"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * Deletes the folder and what is in it.
   *
   * @throws UncheckedIOException if that cannot be deleted
   */
  @Override
  public void close() {
    try (Stream<Path> paths = Files.walk(path)) {
      for (Path one : paths.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(one);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

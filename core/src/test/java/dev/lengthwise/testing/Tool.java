package dev.lengthwise.testing;

import java.io.File;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * An outside program that tests use as an oracle.
 *
 * <p>A missing program fails the test and names the Debian package to install; it never skips.
 */
public final class Tool {

  private final Path binary;

  private Tool(Path binary) {
    this.binary = binary;
  }

  /**
   * Finds a program on the path.
   *
   * @param binary the program's name
   * @param debianPackage the package that has it
   * @return the program
   * @throws AssertionError if it is missing
   */
  public static Tool named(String binary, String debianPackage) {
    return Arrays.stream(System.getenv("PATH").split(File.pathSeparator))
        .map(directory -> Path.of(directory, binary))
        .filter(Files::isExecutable)
        .findFirst()
        .map(Tool::new)
        .orElseThrow(() -> missing("tool " + binary, debianPackage));
  }

  /**
   * Returns a program that the test itself has built.
   *
   * @param binary the file
   * @return the program
   */
  public static Tool at(Path binary) {
    return new Tool(binary);
  }

  /**
   * Returns a file that a package installs.
   *
   * @param file the file
   * @param debianPackage the package that has it
   * @return the file
   * @throws AssertionError if it is missing
   */
  public static Path installed(Path file, String debianPackage) {
    if (!Files.isRegularFile(file)) {
      throw missing("file " + file, debianPackage);
    }
    return file;
  }

  private static AssertionError missing(String what, String debianPackage) {
    return new AssertionError(what + ": install the Debian package " + debianPackage);
  }

  /**
   * Runs the program to its end.
   *
   * @param seconds the time limit
   * @param arguments the arguments
   * @return its standard output
   * @throws AssertionError if it fails or takes too long
   */
  public String run(int seconds, Object... arguments) {
    try {
      Path output = Files.createTempFile("tool", ".out");
      Path errors = Files.createTempFile("tool", ".err");
      try {
        run(output, errors, seconds, arguments);
        return Files.readString(output, StandardCharsets.UTF_8);
      } finally {
        Files.delete(output);
        Files.delete(errors);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void run(Path output, Path errors, int seconds, Object... arguments) throws IOException {
    List<String> command = new ArrayList<>(List.of(binary.toString()));
    Arrays.stream(arguments).map(Object::toString).forEach(command::add);
    ProcessBuilder builder =
        new ProcessBuilder(command)
            .redirectOutput(output.toFile())
            .redirectError(errors.toFile())
            .redirectInput(new File("/dev/null"));
    builder.environment().put("LC_ALL", "C");
    Process process = builder.start();
    try {
      if (!process.waitFor(seconds, TimeUnit.SECONDS)) {
        throw new AssertionError(command + ": at most " + seconds + " s are allowed, found more");
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(command + ": interrupted", e);
    } finally {
      process.destroyForcibly();
    }
    if (process.exitValue() != 0) {
      throw new AssertionError(
          command
              + ": exit status 0 is expected, found "
              + process.exitValue()
              + "\n"
              + Files.readString(errors, StandardCharsets.UTF_8));
    }
  }
}

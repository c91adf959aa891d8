package dev.lengthwise.vhdl;

import com.google.common.base.Splitter;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.OutputFile;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * Runs the outside tools that judge emitted text; a missing one fails the test that asks for it.
 */
final class Tools {

  private static final long SECONDS = 120;

  private Tools() {}

  /** What a tool said; {@code exit} is its exit code. */
  record Result(int exit, String output) {}

  /** Writes the files of a circuit and returns the VHDL sources in the order of the list. */
  static List<Path> write(Path directory, Circuit circuit, Vhdl vhdl) {
    try {
      Path list = null;
      for (OutputFile file : vhdl.files(circuit)) {
        Path path = directory.resolve(file.path());
        Files.createDirectories(path.getParent());
        Files.writeString(path, file.text(), StandardCharsets.US_ASCII);
        list = path;
      }
      List<Path> sources = new ArrayList<>();
      for (String line : Splitter.on('\n').omitEmptyStrings().split(Files.readString(list))) {
        sources.add(list.resolveSibling(line));
      }
      return sources;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Analyses sources with GHDL, all its warnings on, and fails unless it says nothing. */
  static void analyse(Path directory, String edition, List<Path> sources) {
    List<String> command =
        new ArrayList<>(
            List.of(
                "ghdl",
                "-a",
                "--std=" + edition,
                "--workdir=" + directory,
                "-Whide",
                "-Wunused",
                "-Wparenthesis",
                "-Wothers",
                "-Wpure",
                "-Wreserved",
                "-Wbody",
                "-Wspecs",
                "-Wdelayed-checks",
                "-Wruntime-error",
                "-Wnested-comment",
                "-Wuseless",
                "-Wstatic"));
    sources.forEach(source -> command.add(source.toString()));
    Result result = run(directory, command);
    if (result.exit() != 0 || !result.output().isEmpty()) {
      throw new AssertionError("ghdl --std=" + edition + " is not content:\n" + result.output());
    }
  }

  /** Runs a command; standard error comes with standard output. */
  static Result run(Path directory, List<String> command) {
    try {
      Path output = Files.createTempFile(directory, "tool", ".txt");
      Process process = start(directory, command, output);
      if (!process.waitFor(SECONDS, TimeUnit.SECONDS)) {
        process.destroyForcibly();
        throw new AssertionError("no end after " + SECONDS + " s: " + command);
      }
      return new Result(process.exitValue(), Files.readString(output, StandardCharsets.ISO_8859_1));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError("interrupted: " + command, e);
    }
  }

  private static Process start(Path directory, List<String> command, Path output) {
    try {
      return new ProcessBuilder(command)
          .directory(directory.toFile())
          .redirectErrorStream(true)
          .redirectOutput(output.toFile())
          .start();
    } catch (IOException e) {
      throw new AssertionError(
          command.get(0) + " is missing: install the Debian package " + command.get(0), e);
    }
  }
}

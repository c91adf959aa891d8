package dev.lengthwise.testbench.tool;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.work.Work;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * A finished run of an installed program.
 *
 * @param status its exit status
 * @param output what it printed, errors included
 */
public record ToolRun(int status, String output) {

  private static final int MOST_OUTPUT = 1 << 20;

  /** The lines of a long output that say why it failed. */
  private static final int LAST_LINES = 10;

  /**
   * Returns the end of what was printed, where programs say why they failed.
   *
   * @return its last ten lines at most, with line feeds between them
   */
  public String lastLines() {
    List<String> lines = output.lines().toList();
    return String.join("\n", lines.subList(Math.max(0, lines.size() - LAST_LINES), lines.size()));
  }

  /**
   * Runs a program.
   *
   * @param debianPackage the package that has the program, for the message if it is missing
   * @param folder where to run it
   * @param seconds how long it may take
   * @param command the program and its arguments
   * @return what came out of it
   * @throws IllegalStateException if the program is not installed or takes too long
   */
  public static ToolRun of(String debianPackage, Path folder, int seconds, List<String> command) {
    return within(debianPackage, folder, seconds, command)
        .orElseThrow(
            () ->
                new IllegalStateException(
                    String.format(
                        Locale.ROOT,
                        "%s: must end within %d seconds, found it running",
                        command.get(0),
                        seconds)));
  }

  /**
   * Runs a program that may take too long; then it is ended, with the programs it has started.
   *
   * @param debianPackage see {@link #of}
   * @param folder see {@link #of}
   * @param seconds see {@link #of}
   * @param command see {@link #of}
   * @return the run, or empty if it took too long
   * @throws IllegalStateException if the program is not installed
   * @throws CancelledException if the thread is interrupted; the program is ended then too
   */
  public static Optional<ToolRun> within(
      String debianPackage, Path folder, int seconds, List<String> command) {
    Path log = null;
    try {
      log = Files.createTempFile("lengthwise", ".log");
      Process process =
          new ProcessBuilder(command)
              .directory(folder.toFile())
              .redirectErrorStream(true)
              .redirectInput(ProcessBuilder.Redirect.from(new java.io.File("/dev/null")))
              .redirectOutput(log.toFile())
              .start();
      if (!hasEnded(process, seconds)) {
        return Optional.empty();
      }
      byte[] bytes;
      try (var in = Files.newInputStream(log)) {
        bytes = in.readNBytes(MOST_OUTPUT);
      }
      return Optional.of(
          new ToolRun(process.exitValue(), new String(bytes, StandardCharsets.UTF_8)));
    } catch (IOException e) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "%s: the program must be installed (Debian package %s), found %s",
              command.get(0),
              debianPackage,
              e.getMessage()),
          e);
    } catch (InterruptedException e) {
      throw Work.cancelled(e);
    } finally {
      if (log != null) {
        log.toFile().delete();
      }
    }
  }

  /** Waits for a program, which is ended with those it has started if it is waited for no more. */
  private static boolean hasEnded(Process process, int seconds) throws InterruptedException {
    boolean ended = false;
    try {
      ended = process.waitFor(seconds, TimeUnit.SECONDS);
      return ended;
    } finally {
      if (!ended) {
        List<ProcessHandle> started = process.descendants().toList();
        process.destroyForcibly();
        started.forEach(ProcessHandle::destroyForcibly);
      }
    }
  }
}

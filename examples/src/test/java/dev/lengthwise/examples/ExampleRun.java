package dev.lengthwise.examples;

import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** An example in a process of its own, as a user runs it. */
final class ExampleRun {

  private static final int MOST_SECONDS = 600;

  private final Process process;
  private final Path out;
  private final Path err;

  private ExampleRun(Process process, Path out, Path err) {
    this.process = process;
    this.out = out;
    this.err = err;
  }

  /** What a run that has ended said. */
  record Result(int status, String out, String err) {

    /** Tells whether a stack was shown, in which no user finds what to do. */
    boolean hasStack() {
      return (out + err).lines().anyMatch(line -> line.matches("\\s*at [\\w.$/]+\\(.*\\)"));
    }
  }

  /** Starts an example in a folder, which is where it writes by default. */
  static ExampleRun start(Path folder, String... arguments) throws IOException {
    return startOnPath(System.getenv("PATH"), folder, arguments);
  }

  /** Starts an example that finds programs in other folders. */
  static ExampleRun startOnPath(String path, Path folder, String... arguments) throws IOException {
    return start(path, System.getProperty("java.class.path"), folder, arguments);
  }

  /** Starts an example that finds programs in other folders and classes on another class path. */
  static ExampleRun start(String path, String classPath, Path folder, String... arguments)
      throws IOException {
    // A build in the background ignores the signal of Ctrl-C, and so would what it starts.
    List<String> command = new ArrayList<>(List.of("/usr/bin/env", "--default-signal=INT"));
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    // For short runs, this takes the least time.
    command.addAll(List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xmx1g"));
    // Two tests may run the example of speed at the same time; their figures are not looked at.
    command.add("-Djmh.ignoreLock=true");
    command.addAll(List.of("-cp", classPath));
    command.add(Examples.class.getName());
    command.addAll(List.of(arguments));
    Path out = Files.createTempFile("example", ".out");
    Path err = Files.createTempFile("example", ".err");
    ProcessBuilder builder =
        new ProcessBuilder(command)
            .directory(folder.toFile())
            .redirectInput(new File("/dev/null"))
            .redirectOutput(out.toFile())
            .redirectError(err.toFile());
    builder.environment().put("PATH", path);
    return new ExampleRun(builder.start(), out, err);
  }

  /** Runs an example to its end. */
  static Result of(Path folder, String... arguments) throws IOException, InterruptedException {
    return start(folder, arguments).result();
  }

  Process process() {
    return process;
  }

  /** Waits for the end. */
  Result result() throws IOException, InterruptedException {
    try {
      if (!process.waitFor(MOST_SECONDS, TimeUnit.SECONDS)) {
        throw new AssertionError(
            "example: must end within %d s, found it running: %s"
                .formatted(MOST_SECONDS, Files.readString(err)));
      }
      return new Result(
          process.exitValue(),
          Files.readString(out, StandardCharsets.UTF_8),
          Files.readString(err, StandardCharsets.UTF_8));
    } finally {
      process.destroyForcibly();
      Files.delete(out);
      Files.delete(err);
    }
  }

  /** Returns the files below a folder, and what they hold. */
  static java.util.SortedMap<String, String> files(Path folder) throws IOException {
    try (Stream<Path> paths = Files.walk(folder)) {
      return paths
          .filter(Files::isRegularFile)
          .collect(
              Collectors.toMap(
                  file -> folder.relativize(file).toString(),
                  file -> {
                    try {
                      return Files.readString(file, StandardCharsets.ISO_8859_1);
                    } catch (IOException e) {
                      throw new java.io.UncheckedIOException(e);
                    }
                  },
                  (a, b) -> a,
                  java.util.TreeMap::new));
    }
  }
}

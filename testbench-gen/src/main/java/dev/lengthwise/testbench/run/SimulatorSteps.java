package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.ToolRun;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** The commands of a simulator, run one after another in a folder of their own. */
final class SimulatorSteps {

  private static final int MOST_SECONDS = 600;

  private SimulatorSteps() {}

  /** Runs commands up to the first that fails, and reads the bench's report from their output. */
  static SimulationResult run(Simulator simulator, String debianPackage, List<List<String>> steps) {
    long start = System.nanoTime();
    try {
      Path work = Files.createTempDirectory("lengthwise");
      try {
        ToolRun all = new ToolRun(0, "");
        for (List<String> command : steps) {
          ToolRun step = ToolRun.of(debianPackage, work, MOST_SECONDS, command);
          all = new ToolRun(step.status(), all.output() + step.output());
          if (all.status() != 0) {
            break;
          }
        }
        Duration duration = Duration.ofNanos(System.nanoTime() - start);
        return SimulationResult.of(simulator.name(), all, duration);
      } finally {
        delete(work);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static void delete(Path folder) {
    try (Stream<Path> paths = Files.walk(folder)) {
      for (Path path : paths.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(path);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

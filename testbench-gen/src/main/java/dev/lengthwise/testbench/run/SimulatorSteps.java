package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WorkFolder;
import java.time.Duration;
import java.util.List;

/** The commands of a simulator, run one after another in a folder of their own. */
final class SimulatorSteps {

  private static final int MOST_SECONDS = 600;

  private SimulatorSteps() {}

  /** Runs commands up to the first that fails, and reads the bench's report from their output. */
  static SimulationResult run(Simulator simulator, String debianPackage, List<List<String>> steps) {
    long start = System.nanoTime();
    try (WorkFolder work = WorkFolder.make()) {
      ToolRun all = new ToolRun(0, "");
      for (List<String> command : steps) {
        ToolRun step = ToolRun.of(debianPackage, work.path(), MOST_SECONDS, command);
        all = new ToolRun(step.status(), all.output() + step.output());
        if (all.status() != 0) {
          break;
        }
      }
      Duration duration = Duration.ofNanos(System.nanoTime() - start);
      return SimulationResult.of(simulator.name(), all, duration);
    }
  }
}

package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.ToolRun;
import java.time.Duration;
import java.util.List;
import java.util.Objects;

/**
 * What a simulator said of a design.
 *
 * @param simulator the simulator's name
 * @param passed true if the bench ran to its end without a mismatch
 * @param vectors the vectors that the bench ran; 0 if it did not report
 * @param mismatches the mismatches that the bench counted; 0 if it did not report
 * @param shown the first mismatches, as the bench printed them
 * @param output all that the tools printed
 * @param duration the time that compiling and running took
 */
public record SimulationResult(
    String simulator,
    boolean passed,
    int vectors,
    int mismatches,
    List<String> shown,
    String output,
    Duration duration) {

  /**
   * Copies the list.
   *
   * @param simulator see SimulationResult
   * @param passed see SimulationResult
   * @param vectors see SimulationResult
   * @param mismatches see SimulationResult
   * @param shown see SimulationResult
   * @param output see SimulationResult
   * @param duration see SimulationResult
   */
  public SimulationResult {
    Objects.requireNonNull(simulator, "simulator");
    Objects.requireNonNull(output, "output");
    Objects.requireNonNull(duration, "duration");
    shown = List.copyOf(shown);
  }

  /** Reads the report that every bench prints. */
  static SimulationResult of(String simulator, ToolRun run, Duration duration) {
    List<String> lines = run.output().lines().toList();
    int vectors = number(lines, "vectors: ");
    int mismatches = number(lines, "mismatches: ");
    boolean passed =
        run.status() == 0
            && vectors > 0
            && mismatches == 0
            && lines.stream().anyMatch(line -> line.contains("PASS "));
    List<String> shown = lines.stream().filter(line -> line.contains("mismatch at ")).toList();
    return new SimulationResult(
        simulator, passed, vectors, mismatches, shown, run.output(), duration);
  }

  private static int number(List<String> lines, String label) {
    for (String line : lines) {
      int at = line.indexOf(label);
      if (at >= 0) {
        String digits = line.substring(at + label.length()).replaceAll("[^0-9].*", "");
        return digits.isEmpty() ? 0 : Integer.parseInt(digits);
      }
    }
    return 0;
  }
}

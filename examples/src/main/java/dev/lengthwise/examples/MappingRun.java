package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.suite.SuiteResults;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.report.MappingTable;
import dev.lengthwise.testbench.yardstick.Yosys;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/** Maps one function after the other, each beside what the tool makes of it, and keeps the rows. */
final class MappingRun {

  /**
   * What to map.
   *
   * @param function the function
   * @param device what its LUTs are
   */
  record Task(MappedFunction function, DeviceProfile device) {}

  /**
   * What was found.
   *
   * @param task what was mapped
   * @param bound the most levels that were allowed, if that is the tool's
   * @param row ours and the tool's
   */
  private record Found(Task task, OptionalInt bound, MappingTable.Row row) {

    boolean isLarger() {
      return row.toolLuts().isPresent() && row.luts() > row.toolLuts().getAsInt();
    }

    boolean isMet() {
      return bound.isEmpty() || row.levels() <= bound.getAsInt();
    }
  }

  private final SuiteOptions suite;
  private final Effort effort;
  private final Optional<Duration> time;
  private final boolean runs;
  private final List<Found> found = new ArrayList<>();

  /**
   * Begins a run.
   *
   * @param effort how much to search if no time is given
   * @param time how long to search for each function
   */
  MappingRun(SuiteOptions suite, Effort effort, Optional<Duration> time) {
    this.suite = suite;
    this.effort = effort;
    this.time = time;
    this.runs = !suite.isStored() && new Yosys().isInstalled();
    if (!runs && !suite.isStored() && (suite.isBounded() || suite.version().isPresent())) {
      throw suite.wrong(
          "mapping: Yosys (Debian package yosys) or --stored-tool is expected, found neither");
    }
  }

  /** Maps one, and accounts for it. */
  List<String> map(Task task) {
    int lutInputs = task.device().lutInputs();
    Optional<SuiteResults.Size> tool = tool(task);
    OptionalInt bound =
        suite.isBounded()
            ? OptionalInt.of(Math.max(1, tool.orElseThrow(() -> unknown(task)).levels()))
            : OptionalInt.empty();
    MappedFunction function =
        bound.isPresent() ? task.function().withMostLevels(bound.getAsInt()) : task.function();
    long start = System.nanoTime();
    MappedFunction.Figures ours =
        time.isPresent()
            ? function.mapFor(task.device(), time.get())
            : function.map(task.device(), effort);
    double seconds = (System.nanoTime() - start) / 1e9;
    MappingTable.Row row =
        new MappingTable.Row(
            function.name(),
            lutInputs,
            ours.luts(),
            ours.sites(),
            ours.levels(),
            tool.map(t -> OptionalInt.of(t.luts())).orElse(OptionalInt.empty()),
            tool.map(t -> OptionalInt.of(t.levels())).orElse(OptionalInt.empty()),
            seconds,
            ours.proved());
    found.add(new Found(task, bound, row));
    List<String> account = new ArrayList<>();
    account.add(String.format(Locale.ROOT, "%s in LUTs of %d inputs", function.name(), lutInputs));
    ours.account().forEach(line -> account.add("  " + line));
    return account;
  }

  private Optional<SuiteResults.Size> tool(Task task) {
    MappedFunction function = task.function();
    int lutInputs = task.device().lutInputs();
    if (suite.isStored()) {
      return SuiteResults.stored().tool(function.name(), lutInputs);
    }
    return runs
        ? Optional.of(new Yosys().best(function.texts(), lutInputs))
            .map(figure -> new SuiteResults.Size(figure.luts(), figure.levels()))
        : Optional.empty();
  }

  private IllegalStateException unknown(Task task) {
    return new IllegalStateException(
        "--stored-tool: a figure is expected for " + task.function().name() + ", found none");
  }

  boolean isProved() {
    return found.stream().allMatch(f -> f.row().proved());
  }

  /** Writes all tables of what was found so far, and returns the one of the mapping. */
  Path write(Path folder) throws IOException {
    if (suite.version().isPresent()) {
      SuiteResults results = SuiteResults.in(folder);
      for (Found f : found) {
        results = results.with(entry(f));
      }
      results.write(folder);
    }
    return new MappingTable(found.stream().map(Found::row).toList()).write(folder);
  }

  private SuiteResults.Entry entry(Found f) {
    MappingTable.Row row = f.row();
    return new SuiteResults.Entry(
        suite.version().orElseThrow(),
        new SuiteResults.Subject(
            f.task().function().name(), row.lutInputs(), effort, f.bound().isPresent()),
        new SuiteResults.Size(row.luts(), row.levels()),
        new SuiteResults.Size(
            row.toolLuts().orElseThrow(() -> unknown(f.task())), row.toolLevels().orElseThrow()));
  }

  void print(PrintWriter print) {
    TextTable text =
        new TextTable(
            "function", "K", "LUTs", "sites", "levels", "Yosys LUTs", "levels", "s", "proved");
    for (Found f : found) {
      MappingTable.Row row = f.row();
      text.row(
          row.function(),
          row.lutInputs(),
          row.luts(),
          row.sites(),
          f.isMet() ? row.levels() : row.levels() + " (not met)",
          row.toolLuts().isPresent() ? row.toolLuts().getAsInt() : "-",
          row.toolLevels().isPresent() ? row.toolLevels().getAsInt() : "-",
          String.format(Locale.ROOT, "%.1f", row.seconds()),
          row.proved() ? "yes" : "no");
    }
    print.println(text);
    if (!runs && !suite.isStored()) {
      print.println("Yosys is not installed (Debian package yosys), so nothing was compared");
    } else if (suite.isGiven()) {
      for (int lutInputs : new int[] {6, 4}) {
        print.println(
            "K="
                + lutInputs
                + ": "
                + sums(found.stream().filter(f -> f.row().lutInputs() == lutInputs).toList()));
      }
      print.println("in all: " + sums(found));
    }
  }

  private static String sums(List<Found> part) {
    List<Found> compared = part.stream().filter(f -> f.row().toolLuts().isPresent()).toList();
    int ours = compared.stream().mapToInt(f -> f.row().luts()).sum();
    int tool = compared.stream().mapToInt(f -> f.row().toolLuts().orElseThrow()).sum();
    return String.format(
        Locale.ROOT,
        "%d LUTs, Yosys %d, ratio %.3f; more than Yosys in %d of %d; levels not met in %d",
        ours,
        tool,
        (double) ours / tool,
        compared.stream().filter(Found::isLarger).count(),
        compared.size(),
        part.stream().filter(f -> !f.isMet()).count());
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.report.MappingTable;
import dev.lengthwise.testbench.yardstick.Yosys;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import me.tongfei.progressbar.ProgressBar;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Maps functions to LUTs, ours beside a general synthesis tool, in the same run. */
@Command(
    name = "mapping",
    description = "Maps functions to LUTs and compares with Yosys, the best of several scripts.")
final class MappingExample implements Callable<Integer> {

  private static final int RANDOM_TABLES = 20;
  private static final int FEW_LEVELS = 7;

  @Option(
      names = "--table",
      paramLabel = "FILE",
      description = {
        "a table of your own: first line 'inputs N outputs M', then a line for each output of",
        "2^N digits 0, 1 or -, input 0 being the least significant bit of a digit's position"
      })
  private Optional<Path> table = Optional.empty();

  @Option(
      names = "--set",
      paramLabel = "NAME",
      completionCandidates = SetOption.Names.class,
      description = {
        "map the lane of this instruction set instead: one of ${COMPLETION-CANDIDATES},",
        "or of your own, with its SetProvider on the class path"
      })
  private Optional<String> set = Optional.empty();

  @Option(
      names = "--only",
      paramLabel = "NAME",
      split = ",",
      description = "map these functions only, for instance reference_lane,tidegate_lane")
  private List<String> only = List.of();

  @Option(names = "--thorough", description = "search for minutes instead of seconds")
  private boolean thorough;

  @Option(names = "--explain", description = "print the account of each mapping")
  private boolean explain;

  @Option(
      names = "--bits",
      description = "print which bits could go, but for which rows, and which bits are alike")
  private boolean bits;

  @Mixin private OutFolder out = new OutFolder("mapping");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    PrintWriter print = spec.commandLine().getOut();
    if (set.isPresent() && table.isPresent()) {
      throw wrong("--set: must not be given with --table, found " + set.get());
    }
    Yosys yosys = new Yosys();
    boolean compare = yosys.isInstalled();
    List<Task> tasks = new ArrayList<>();
    for (MappedFunction function : functions(false)) {
      tasks.add(new Task(function, DeviceProfile.sixInputDualOutput()));
    }
    if (bits) {
      for (Task task : tasks) {
        print.println("bits of " + task.function().name());
        task.function().bits().forEach(print::println);
        print.println();
      }
    }
    for (MappedFunction function : functions(true)) {
      tasks.add(new Task(function, DeviceProfile.fourInput()));
    }
    requireKnown(tasks);
    Path folder = out.writable();
    List<MappingTable.Row> rows = new ArrayList<>();
    try (ProgressBar bar = ProgressBars.of("mapping", tasks.size()).build()) {
      for (Task task : tasks) {
        bar.setExtraMessage(task.function().name());
        rows.add(row(task, compare ? Optional.of(yosys) : Optional.empty(), print));
        // After each row, as a run of an hour may be broken off.
        new MappingTable(rows).write(folder);
        bar.step();
      }
    }
    print(rows, compare, print);
    print.println("written to " + new MappingTable(rows).write(folder));
    return rows.stream().allMatch(MappingTable.Row::proved) ? 0 : 1;
  }

  /** Returns the functions; few inputs make levels scarce, so one lane is bounded in these then. */
  private List<MappedFunction> functions(boolean fewInputs) {
    if (set.isPresent()) {
      NamedSet named = SetOption.find(set.get(), spec);
      return List.of(new MappedFunction.Lane(named.name() + "_lane", named.lane()));
    }
    if (table.isPresent()) {
      return List.of(new MappedFunction.Tables("table", read(table.get())));
    }
    ReferenceLane reference = ReferenceLane.read();
    List<MappedFunction> functions = new ArrayList<>();
    functions.add(new MappedFunction.Tables("reference_map_0", reference.map(0)));
    functions.add(new MappedFunction.Tables("reference_map_1", reference.map(1)));
    functions.add(new MappedFunction.Lane("reference_without_displacement", reference.lane(false)));
    functions.add(new MappedFunction.Lane("reference_lane", reference.lane(true)));
    if (fewInputs) {
      functions.add(
          new MappedFunction.Lane(
              "reference_lane_in_" + FEW_LEVELS + "_levels", reference.lane(true), FEW_LEVELS));
    }
    Predecoder.Builder ia32 = Predecoder.builder(Ia32.instructionSet());
    functions.add(new MappedFunction.Lane("ia32_lane", ia32.build()));
    functions.add(
        new MappedFunction.Lane(
            "ia32_defined_rows", ia32.undefinedRows(UndefinedRows.ANYTHING).build()));
    functions.add(new MappedFunction.Lane("tidegate_lane", Tidegate.lane()));
    for (int seed = 1; seed <= RANDOM_TABLES; seed++) {
      functions.add(MappedFunction.Tables.random(seed));
    }
    functions.removeIf(function -> !only.isEmpty() && !only.contains(function.name()));
    return functions;
  }

  private void requireKnown(List<Task> tasks) {
    for (String name : only) {
      if (tasks.stream().noneMatch(task -> task.function().name().equals(name))) {
        throw new ParameterException(
            spec.commandLine(), "--only: the name must be one of the table's, found " + name);
      }
    }
  }

  private TruthTables read(Path file) {
    String name = ShownText.of(file.toString());
    if (Files.isDirectory(file)) {
      throw wrong(name + ": a file is expected, found a folder");
    }
    try {
      return TruthTables.parse(Files.readString(file, StandardCharsets.US_ASCII));
    } catch (CharacterCodingException e) {
      throw wrong(name + ": ASCII text is expected, found other bytes");
    } catch (IOException e) {
      throw wrong(WrongUse.text(e));
    } catch (IllegalArgumentException e) {
      throw wrong(name + ": " + e.getMessage());
    }
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }

  private record Task(MappedFunction function, DeviceProfile device) {}

  private MappingTable.Row row(Task task, Optional<Yosys> yosys, PrintWriter print) {
    MappedFunction function = task.function();
    DeviceProfile device = task.device();
    long start = System.nanoTime();
    MappedFunction.Figures ours = function.map(device, effort());
    double seconds = (System.nanoTime() - start) / 1e9;
    if (explain) {
      print.printf(Locale.ROOT, "%s in LUTs of %d inputs%n", function.name(), device.lutInputs());
      ours.account().forEach(line -> print.println("  " + line));
    }
    Optional<Yosys.Figure> tool = yosys.map(y -> y.best(function.texts(), device.lutInputs()));
    return new MappingTable.Row(
        function.name(),
        device.lutInputs(),
        ours.luts(),
        ours.sites(),
        ours.levels(),
        tool.map(t -> OptionalInt.of(t.luts())).orElse(OptionalInt.empty()),
        tool.map(t -> OptionalInt.of(t.levels())).orElse(OptionalInt.empty()),
        seconds,
        ours.proved());
  }

  private Effort effort() {
    return thorough ? Effort.THOROUGH : Effort.QUICK;
  }

  private static void print(List<MappingTable.Row> rows, boolean compared, PrintWriter print) {
    TextTable text =
        new TextTable(
            "function", "K", "LUTs", "sites", "levels", "Yosys LUTs", "levels", "s", "proved");
    for (MappingTable.Row row : rows) {
      text.row(
          row.function(),
          row.lutInputs(),
          row.luts(),
          row.sites(),
          row.levels(),
          row.toolLuts().isPresent() ? row.toolLuts().getAsInt() : "-",
          row.toolLevels().isPresent() ? row.toolLevels().getAsInt() : "-",
          String.format(Locale.ROOT, "%.1f", row.seconds()),
          row.proved() ? "yes" : "no");
    }
    print.println(text);
    if (!compared) {
      print.println("Yosys is not installed (Debian package yosys), so nothing was compared");
    }
  }
}

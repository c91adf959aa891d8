package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.ReferenceLane;
import dev.lengthwise.examples.set.Tidegate;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
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

  @Option(
      names = "--seconds",
      paramLabel = "SECONDS",
      description =
          "search for each function so long, on all processors; --explain says what was tried")
  private Optional<Integer> seconds = Optional.empty();

  @Option(names = "--explain", description = "print the account of each mapping")
  private boolean explain;

  @Option(
      names = "--bits",
      description = "print which bits could go, but for which rows, and which bits are alike")
  private boolean bits;

  @Mixin private SuiteOptions suite = new SuiteOptions();

  @Mixin private OutFolder out = new OutFolder("mapping");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    PrintWriter print = spec.commandLine().getOut();
    if (set.isPresent() && table.isPresent()) {
      throw wrong("--set: must not be given with --table, found " + set.get());
    }
    suite.check(set.or(() -> table.map(Path::toString)));
    checkTime();
    List<MappingRun.Task> tasks = new ArrayList<>();
    for (MappedFunction function : functions(false)) {
      tasks.add(new MappingRun.Task(function, DeviceProfile.sixInputDualOutput()));
    }
    if (bits) {
      for (MappingRun.Task task : tasks) {
        print.println("bits of " + task.function().name());
        task.function().bits().forEach(print::println);
        print.println();
      }
    }
    for (MappedFunction function : functions(true)) {
      tasks.add(new MappingRun.Task(function, DeviceProfile.fourInput()));
    }
    requireKnown(tasks);
    Path folder = out.writable();
    MappingRun run =
        new MappingRun(
            suite,
            thorough ? Effort.THOROUGH : Effort.QUICK,
            seconds.map(value -> Duration.ofSeconds(value)));
    try (ProgressBar bar = ProgressBars.of("mapping", tasks.size()).build()) {
      for (MappingRun.Task task : tasks) {
        bar.setExtraMessage(task.function().name());
        List<String> account = run.map(task);
        if (explain) {
          account.forEach(print::println);
        }
        // After each row, as a run of an hour may be broken off.
        run.write(folder);
        bar.step();
      }
    }
    run.print(print);
    print.println("written to " + run.write(folder));
    return run.isProved() ? 0 : 1;
  }

  private void checkTime() {
    if (seconds.isEmpty()) {
      return;
    }
    if (seconds.get() < 1) {
      throw wrong("--seconds: must be at least 1, found " + seconds.get());
    }
    if (thorough || suite.version().isPresent()) {
      // What a time allows differs from run to run, so it is no result of a version.
      String other = thorough ? "--thorough" : "--record";
      throw wrong("--seconds: must not be given with " + other + ", found " + seconds.get());
    }
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
    List<MappedFunction> functions = suite.isGiven() ? suite.functions() : usual(fewInputs);
    functions.removeIf(function -> !only.isEmpty() && !only.contains(function.name()));
    return functions;
  }

  private static List<MappedFunction> usual(boolean fewInputs) {
    ReferenceLane reference = ReferenceLane.read();
    List<MappedFunction> functions = new ArrayList<>();
    functions.add(new MappedFunction.Tables("reference_map_0", reference.map(0)));
    functions.add(new MappedFunction.Tables("reference_map_1", reference.map(1)));
    functions.add(new MappedFunction.Lane("reference_without_displacement", reference.lane(false)));
    functions.add(new MappedFunction.Lane("reference_lane", reference.lane(true)));
    if (fewInputs) {
      functions.add(
          new MappedFunction.Lane("reference_lane", reference.lane(true))
              .withMostLevels(FEW_LEVELS));
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
    return functions;
  }

  private void requireKnown(List<MappingRun.Task> tasks) {
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
}

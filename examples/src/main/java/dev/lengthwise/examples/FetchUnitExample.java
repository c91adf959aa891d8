package dev.lengthwise.examples;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.FillOrder;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.cache.Replacement;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.FetchRow;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.FetchPath;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.report.PathsTable;
import dev.lengthwise.report.RamFitTable;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.FetchVectors;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import me.tongfei.progressbar.ProgressBar;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Builds the front end of Tidegate or another set: instruction cache, lanes and marks. */
@Command(
    name = "fetch-unit",
    description =
        "Builds the fetch unit of the controller of a tidal lock gate, or of another set.")
final class FetchUnitExample implements Callable<Integer> {

  /** Where lanes look at the bytes. */
  enum Predecode {
    /** Behind the way multiplexer. */
    INLINE,
    /** Before it. */
    PER_WAY,
    /** Before the data RAM. */
    ON_FILL
  }

  private static final long SEED = 1;

  @Mixin private SetOption of = new SetOption("tidegate");

  @Option(names = "--capacity", paramLabel = "BYTES", description = "(${DEFAULT-VALUE})")
  private int capacity = 16384;

  @Option(names = "--ways", description = "lines of a set (${DEFAULT-VALUE})")
  private int ways = 4;

  @Option(names = "--line", paramLabel = "BYTES", description = "(${DEFAULT-VALUE})")
  private int line = 32;

  @Option(names = "--address", paramLabel = "BITS", description = "(${DEFAULT-VALUE})")
  private int address = 32;

  @Option(names = "--tags", description = "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private TagPlace tags = TagPlace.DISTRIBUTED_RAM;

  @Option(
      names = "--replacement",
      description = "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private Replacement replacement = Replacement.TREE_PLRU;

  @Option(names = "--predecode", description = "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private Predecode predecode = Predecode.INLINE;

  @Option(names = "--fill", description = "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private FillOrder order = FillOrder.CRITICAL_FIRST;

  @Option(
      names = "--cycles",
      description = "random cycles that it is checked in and that benches have (${DEFAULT-VALUE})")
  private int cycles = 20_000;

  @Mixin private OutFolder out = new OutFolder("fetch-unit");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter print = spec.commandLine().getOut();
    DeviceProfile device = DeviceProfile.sixInputDualOutput();
    Realizer realizer = Realizer.on(device);
    Predecoder lane = of.set().lane();
    FetchUnit chosen = unit(lane, tags, predecode);
    if (cycles < 1) {
      throw new ParameterException(
          spec.commandLine(), "--cycles: must be at least 1, found " + cycles);
    }
    Path folder = out.writable();
    Design design = realizer.realize(chosen, Style.ROM);
    RamFit fit = RamFit.of(chosen.cache(), device);
    print.printf(Locale.ROOT, "%s: %s%n%n", chosen.name(), chosen.cache().geometry());
    print.println("RAM on " + device.name() + ", an estimate");
    fit.explain().forEach(text -> print.println("  " + text));
    List<Design> all = all(realizer, design);
    print.println();
    paths(all, print);
    SimulationResult result =
        BuiltInSimulator.run(design, FetchVectors.random(chosen, cycles, SEED));
    report(result, print);
    OutputTree.at(folder)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(cycles, SEED))
        .add(new PathsTable(all).file())
        .add(new RamFitTable(List.of(fit)).file())
        .write(design);
    print.printf(
        Locale.ROOT,
        "written to %s: verilog/%s.f and vhdl/ have the RTL, bench/ its benches and vectors,"
            + " paths.csv the paths, ram_fit.csv the RAM%n",
        folder,
        design.name());
    return result.passed() && simulate(design, folder, print) ? 0 : 1;
  }

  private FetchUnit unit(Predecoder lane, TagPlace place, Predecode lanes) {
    LaneArray given = FetchRow.of(lane);
    String table = lane.instructionSet().table().name();
    LaneArray.Builder builder =
        LaneArray.builder(given.lane(), given.windowBytes()).name(given.name());
    given.cuts().forEach(builder::cut);
    // Before the way multiplexer, and on fill, the window behind is not there yet.
    LaneArray row =
        builder
            .end(lanes == Predecode.INLINE ? WindowEnd.NEXT_BYTES : WindowEnd.NOT_HANDLED)
            .build();
    CacheGeometry geometry = new CacheGeometry(capacity, ways, line, address, given.windowBytes());
    InstructionCache cache =
        InstructionCache.named(table + "_cache", geometry)
            .tags(place)
            .replacement(replacement)
            .predecode(
                switch (lanes) {
                  case INLINE -> PredecodePlace.inline();
                  case PER_WAY -> PredecodePlace.perWay();
                  case ON_FILL -> PredecodePlace.onFill(row.answerBits());
                })
            .build();
    return FetchUnit.of(given.name() + "_unit", cache, row).withOrder(order);
  }

  /** Returns the unit with every place of tags and of pre-decode, the chosen one among them. */
  private List<Design> all(Realizer realizer, Design chosen) {
    Predecoder lane = chosen.unit().orElseThrow().row().lane();
    List<Design> designs = new ArrayList<>();
    try (ProgressBar bar = ProgressBars.of("paths", 6).build()) {
      for (TagPlace place : TagPlace.values()) {
        for (Predecode lanes : Predecode.values()) {
          FetchUnit unit = unit(lane, place, lanes);
          Design design =
              unit.equals(chosen.unit().orElseThrow()) ? chosen : realizer.realize(unit, Style.ROM);
          design.paths();
          designs.add(design);
          bar.step();
        }
      }
    }
    return designs;
  }

  private static void paths(List<Design> designs, PrintWriter print) {
    TextTable table = new TextTable("tags", "pre-decode", "path", "steps, with levels", "levels");
    for (Design design : designs) {
      InstructionCache cache = design.unit().orElseThrow().cache();
      for (FetchPath path : design.paths()) {
        table.row(
            cache.tags().label(),
            cache.predecode().label(),
            path.name(),
            path.steps().stream().map(FetchUnitExample::text).collect(Collectors.joining(", ")),
            path.levels());
      }
    }
    print.println("paths between registers and RAM, in levels of LUTs, an estimate");
    print.println();
    print.println(table);
  }

  private static String text(PathStep step) {
    return step.name() + " " + step.level();
  }

  private boolean simulate(Design design, Path folder, PrintWriter print) {
    SimulationResult result;
    try {
      result = new IcarusVerilog().run(folder, design.name());
    } catch (IllegalStateException missing) {
      print.println("not simulated: " + missing.getMessage());
      return true;
    }
    report(result, print);
    return result.passed();
  }

  private static void report(SimulationResult result, PrintWriter print) {
    print.printf(
        Locale.ROOT,
        "%s: %d random cycles, %s%n",
        result.simulator(),
        result.vectors(),
        result.passed() ? "all agree" : result.mismatches() + " outputs differ");
    result.shown().forEach(print::println);
  }
}

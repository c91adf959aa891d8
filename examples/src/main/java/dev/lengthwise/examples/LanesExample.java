package dev.lengthwise.examples;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.LaneCost;
import dev.lengthwise.report.LanesTable;
import dev.lengthwise.testbench.yardstick.Yosys;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import me.tongfei.progressbar.ProgressBar;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Costs rows of lanes, by window, marking and pipeline cut. */
@Command(
    name = "lanes",
    description = "Costs rows of lanes over fetch windows, and compares with Yosys if installed.")
final class LanesExample implements Callable<Integer> {

  @Mixin private SetOption of = new SetOption("ia32");

  @Option(names = "--style", description = "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private Style style = Style.ROM;

  @Option(
      names = "--windows",
      split = ",",
      paramLabel = "BYTES",
      description = "bytes of the windows (${DEFAULT-VALUE})")
  private List<Integer> windows = List.of(8, 16, 32);

  @Option(
      names = "--levels-per-cycle",
      split = ",",
      paramLabel = "LEVELS",
      description =
          "add rows with marks by entry, of at most so many levels of LUTs between two registers"
              + " behind the lanes")
  private List<Integer> levelsPerCycle = List.of();

  @Option(
      names = "--tool-rows",
      description = "let Yosys map all lanes of a row too, by its best script for a lane alone")
  private boolean toolRows;

  @Option(
      names = "--tool-limit",
      paramLabel = "SECONDS",
      description = "how long that may take for each window (${DEFAULT-VALUE})")
  private int toolLimit = 300;

  @Mixin private OutFolder out = new OutFolder("lanes");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    PrintWriter print = spec.commandLine().getOut();
    Predecoder lane = of.set().lane();
    // All windows and the time are looked at before the first is worked on.
    for (int window : windows) {
      LaneArray.builder(lane, window).build();
      byEntry().forEach(marking -> LaneArray.builder(lane, window).marking(marking).build());
    }
    if (toolLimit < 1) {
      throw new ParameterException(
          spec.commandLine(), "--tool-limit: must be at least 1 second, found " + toolLimit);
    }
    Path folder = out.writable();
    List<Integer> unended = new ArrayList<>();
    List<LanesTable.Row> rows = rows(lane, folder, unended);
    print(rows, print);
    unended.forEach(
        window ->
            print.printf(
                Locale.ROOT,
                "Yosys did not end within %d seconds on all lanes of a row of %d bytes%n",
                toolLimit,
                window));
    print.println("written to " + new LanesTable(rows).write(folder));
    return 0;
  }

  private List<LanesTable.Row> rows(Predecoder lane, Path folder, List<Integer> unended)
      throws IOException {
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    Design alone = realizer.realize(lane, style);
    Yosys yosys = new Yosys();
    Optional<Yosys.Figure> tool = Optional.empty();
    if (yosys.isInstalled()) {
      String text = text(realizer.realize(lane, Style.ROM).circuit());
      int lutInputs = DeviceProfile.sixInputDualOutput().lutInputs();
      tool = Optional.of(yosys.best(List.of(text), lutInputs));
    }
    OptionalInt toolAlone = luts(tool);
    List<LanesTable.Row> rows = new ArrayList<>();
    List<LaneArray> choices = windows.stream().flatMap(window -> rows(lane, window)).toList();
    try (ProgressBar bar = ProgressBars.of("lanes", choices.size()).build()) {
      for (int window : windows) {
        OptionalInt toolRow = OptionalInt.empty();
        if (tool.isPresent() && toolRows) {
          Design rom = realizer.realize(LaneArray.builder(lane, window).build(), Style.ROM);
          String text = text(rom.circuit().instances().get(0).circuit());
          toolRow = luts(yosys.within(toolLimit, text, tool.get().script()));
          if (toolRow.isEmpty()) {
            unended.add(window);
          }
        }
        for (LaneArray array : choices) {
          if (array.windowBytes() == window) {
            Design design = realizer.realize(array, alone);
            design.total();
            rows.add(new LanesTable.Row(design, toolAlone, toolRow));
            // After each row, as wide windows take long and may be broken off.
            new LanesTable(rows).write(folder);
            bar.step();
          }
        }
      }
    }
    return rows;
  }

  private List<Marking> byEntry() {
    int inputs = DeviceProfile.sixInputDualOutput().lutInputs();
    return levelsPerCycle.stream().map(levels -> Marking.byEntry(levels, inputs)).toList();
  }

  /** Every marking behind every cut, then those that have registers of their own. */
  private Stream<LaneArray> rows(Predecoder lane, int window) {
    List<LaneArray> rows = new ArrayList<>();
    List<Marking> markings =
        List.of(
            Marking.fullRipple(), Marking.fullLogarithmic(), Marking.first(2), Marking.first(4));
    for (Marking marking : markings) {
      for (List<PipelineCut> cuts : cuts()) {
        LaneArray.Builder array = LaneArray.builder(lane, window).marking(marking);
        cuts.forEach(array::cut);
        rows.add(array.build());
      }
    }
    for (Marking marking : byEntry()) {
      rows.add(LaneArray.builder(lane, window).marking(marking).build());
    }
    return rows.stream();
  }

  private static List<List<PipelineCut>> cuts() {
    return List.of(
        List.of(),
        List.of(PipelineCut.AFTER_LANES),
        List.of(PipelineCut.AFTER_MARKS),
        List.of(PipelineCut.values()));
  }

  private static OptionalInt luts(Optional<Yosys.Figure> figure) {
    return figure.stream().mapToInt(Yosys.Figure::luts).findFirst();
  }

  private static String text(Circuit circuit) {
    return new Verilog()
        .files(circuit).stream()
            .filter(file -> file.path().endsWith(".v"))
            .map(OutputFile::text)
            .collect(Collectors.joining());
  }

  private static void print(List<LanesTable.Row> rows, PrintWriter print) {
    TextTable text =
        new TextTable(
            "window",
            "marking",
            "cuts",
            "latency",
            "lane",
            "in row",
            "marks",
            "LUTs",
            "levels",
            "registers");
    for (LanesTable.Row row : rows) {
      Design design = row.design();
      LaneArray array = design.array().orElseThrow();
      LaneCost lane = design.laneCost().orElseThrow();
      text.row(
          array.windowBytes(),
          array.marking().label(),
          row.cuts(),
          array.latency(),
          lane.alone(),
          String.format(Locale.ROOT, "%.1f", lane.inRow()),
          row.marksLuts(),
          design.total().luts(),
          design.total().levels(),
          design.total().registers());
    }
    Design first = rows.get(0).design();
    print.printf(
        Locale.ROOT,
        "%s in style %s; LUTs, levels and registers are estimates%n%n",
        first.name(),
        first.style().label());
    print.println(text);
    rows.get(0)
        .toolAlone()
        .ifPresentOrElse(
            luts -> print.println("Yosys, a lane alone in style rom: " + luts + " LUTs"),
            () -> print.println("Yosys is not installed (Debian package yosys): no comparison"));
  }
}

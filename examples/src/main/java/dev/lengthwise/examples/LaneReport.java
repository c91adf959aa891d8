package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.javamodel.JavaModel;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.realize.cost.LaneCost;
import dev.lengthwise.report.CostTable;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.ArrayVectors;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import me.tongfei.progressbar.ProgressBar;

/**
 * What every example of a lane does: realise it in several styles, check each in Java, compare
 * their costs, and write the one with the fewest LUTs.
 */
final class LaneReport {

  private static final long SEED = 1;

  private final PrintWriter out;
  private final Path folder;
  private Design least;

  LaneReport(PrintWriter out, Path folder) {
    this.out = out;
    this.folder = folder;
  }

  /**
   * Makes a row of the lanes that the report found to have the fewest LUTs, checks it in Java and
   * writes it; returns true if it agrees with the golden model in every cycle.
   */
  boolean row(LaneArray array) {
    Design design = Realizer.on(least.device()).realize(array, least);
    SimulationResult result =
        BuiltInSimulator.run(design, ArrayVectors.random(array, ArrayVectors.RANDOM, SEED));
    LaneCost lane = design.laneCost().orElseThrow();
    out.printf(
        Locale.ROOT,
        "%n%s, %d bytes, %s: %d LUTs, %d levels, %d registers; a lane %d LUTs alone, %.1f in the"
            + " row; %d cycles of random code, %s%n",
        design.name(),
        array.windowBytes(),
        array.marking().label(),
        design.total().luts(),
        design.total().levels(),
        design.total().registers(),
        lane.alone(),
        lane.inRow(),
        result.vectors(),
        result.passed() ? "all agree" : result.mismatches() + " outputs differ");
    result.shown().forEach(out::println);
    Path rowFolder = folder.resolve("row");
    OutputTree.at(rowFolder)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(ArrayVectors.RANDOM, SEED))
        .add(new CostTable(List.of(design)).file())
        .write(design);
    out.printf(Locale.ROOT, "written to %s, likewise%n", rowFolder);
    return result.passed();
  }

  /** Returns true if every circuit agrees with the golden model on every vector. */
  boolean run(Predecoder lane, List<Style> styles) {
    DeviceProfile device = DeviceProfile.sixInputDualOutput();
    List<Design> designs = styles.stream().map(style -> realize(lane, style, device)).toList();
    boolean passed = compare(designs, LaneVectors.of(lane, LaneVectors.RANDOM, SEED));
    least = designs.stream().min(Comparator.comparingInt(d -> d.total().luts())).orElseThrow();
    show(least);
    write(least, designs);
    return passed;
  }

  private static Design realize(Predecoder lane, Style style, DeviceProfile device) {
    try (ProgressBar bar =
        ProgressBars.of(style.label(), -1).setUpdateIntervalMillis(500).build()) {
      return Realizer.on(device)
          .withProgress(
              (attempts, best) ->
                  bar.stepTo(attempts).setExtraMessage(best == 0 ? "" : best + " LUTs"))
          .realize(lane, style);
    }
  }

  private boolean compare(List<Design> designs, LaneVectors vectors) {
    boolean passed = true;
    TextTable table =
        new TextTable("style", "LUTs", "sites", "levels", "proved", "vectors", "agreement");
    for (Design design : designs) {
      SimulationResult result = BuiltInSimulator.run(design, vectors);
      BlockCost total = design.total();
      table.row(
          design.style().label(),
          total.luts(),
          total.sites(),
          total.levels(),
          total.proved() ? "yes" : "no",
          result.vectors(),
          result.passed() ? "all agree" : result.mismatches() + " differ");
      result.shown().forEach(out::println);
      passed &= result.passed();
    }
    out.printf(
        Locale.ROOT,
        "%s on %s; LUTs, sites and levels are estimates%n%n",
        designs.get(0).name(),
        designs.get(0).device().name());
    out.println(table);
    return passed;
  }

  private void show(Design design) {
    TextTable table = new TextTable("block", "LUTs", "sites", "levels");
    for (BlockCost cost : design.cost()) {
      table.row(cost.block(), cost.luts(), cost.sites(), cost.levels());
    }
    out.printf(Locale.ROOT, "blocks in style %s%n%n", design.style().label());
    out.println(table);
  }

  private void write(Design design, List<Design> designs) {
    // The design written stands first.
    List<Design> costed = new ArrayList<>(List.of(design));
    designs.stream().filter(other -> other != design).forEach(costed::add);
    OutputTree.at(folder)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(LaneVectors.RANDOM, SEED))
        .add(new JavaModel())
        .add(new CostTable(costed).file())
        .write(design);
    out.printf(
        Locale.ROOT,
        "written to %s: verilog/%s.f and vhdl/ have the RTL, bench/ its benches and vectors,"
            + " java/ the reference model, cost.csv the costs%n",
        folder,
        design.name());
  }
}

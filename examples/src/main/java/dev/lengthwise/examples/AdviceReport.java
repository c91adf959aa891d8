package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.report.CostTable;
import dev.lengthwise.report.StudyPage;
import dev.lengthwise.study.advice.Advice;
import dev.lengthwise.study.advice.Advisor;
import dev.lengthwise.study.sweep.StudyRow;
import dev.lengthwise.study.sweep.Variant;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.testbench.run.SimulationResult;
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

/** Searches for a lane of so many LUTs, shows it beside the best made by hand, and writes it. */
final class AdviceReport {

  private static final long SEED = 1;

  private final PrintWriter out;
  private final Path folder;
  private final NamedSet set;
  private final Style style;
  private final UndefinedRows undefined;

  AdviceReport(PrintWriter out, Path folder, NamedSet set, Style style, UndefinedRows undefined) {
    this.out = out;
    this.folder = folder;
    this.set = set;
    this.style = style;
    this.undefined = undefined;
  }

  List<StudyPage.Advised> run(
      int luts, List<Variant> variants, List<StudyRow> rows, List<StudyStream> streams) {
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    Advice advice =
        Advisor.on(streams.get(0), realizer, style)
            .withUndefinedRows(undefined)
            .within(set.name() + "_advised", luts);
    List<StudyPage.Advised> shown = beside(advice, luts, variants, rows, streams);
    print(luts, advice, shown);
    write(advice);
    return shown;
  }

  /** On each stream the best lane by hand and the advised one. */
  private List<StudyPage.Advised> beside(
      Advice advice,
      int luts,
      List<Variant> variants,
      List<StudyRow> rows,
      List<StudyStream> streams) {
    List<StudyPage.Advised> shown = new ArrayList<>();
    for (StudyStream stream : streams) {
      String on =
          stream.name() + (stream == streams.get(0) ? ", searched on" : ", not searched on");
      // On each stream the best there, which is more than a designer has who must choose one lane.
      rows.stream()
          .filter(r -> r.stream().equals(stream.name()) && r.lutsPerLane() <= luts)
          .max(Comparator.comparingDouble(StudyRow::exactShare))
          .ifPresent(
              hand ->
                  shown.add(
                      new StudyPage.Advised(
                          on,
                          hand.design() + ", best by hand",
                          hand.lutsPerLane(),
                          hand.levels(),
                          stream.accuracy(lane(variants, hand).lane()).exactShare())));
      shown.add(
          new StudyPage.Advised(
              on,
              "advised",
              advice.cost().luts(),
              advice.cost().levels(),
              stream.accuracy(advice.lane()).exactShare()));
    }
    return shown;
  }

  private void print(int luts, Advice advice, List<StudyPage.Advised> shown) {
    TextTable table = new TextTable("at most " + luts + " LUTs", "LUTs", "levels", "exact, stream");
    shown.forEach(
        a ->
            table.row(
                a.lane(),
                a.luts(),
                a.levels(),
                StudyText.share(a.exactShare()) + ", " + a.stream()));
    out.printf(
        Locale.ROOT,
        "%n%s%nadvised: expected to be exact for %s of other code like the stream searched on;"
            + " depth %s, longest %d, lookahead %d, prefixes %s, %d ranges of opcodes left"
            + " out; %d lanes estimated, %d realised%n",
        table,
        StudyText.share(advice.expectedShare()),
        advice.lane().depth(),
        advice.lane().longest(),
        advice.lane().lookahead(),
        advice.lane().prefixes().values().stream()
            .findFirst()
            .map(PrefixTreatment::kind)
            .map(Enum::name)
            .orElse("none"),
        advice.lane().leftOut().size(),
        advice.estimated(),
        advice.realized());
  }

  /** Checks the lane and writes it. */
  private void write(Advice advice) {
    SimulationResult result =
        BuiltInSimulator.run(
            advice.design(), LaneVectors.of(advice.lane(), LaneVectors.RANDOM, SEED));
    if (!result.passed()) {
      throw new IllegalStateException(
          "ia32-study: the advised lane must agree with the golden model, found "
              + result.mismatches()
              + " mismatches");
    }
    OutputTree.at(folder)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(LaneVectors.RANDOM, SEED))
        .add(new CostTable(List.of(advice.design())).file())
        .write(advice.design());
    out.printf(
        Locale.ROOT,
        "written to %s: verilog/, vhdl/, bench/, cost.csv; %d vectors agree%n",
        folder,
        result.vectors());
  }

  private static Variant lane(List<Variant> variants, StudyRow row) {
    return variants.stream().filter(v -> v.name().equals(row.design())).findFirst().orElseThrow();
  }
}

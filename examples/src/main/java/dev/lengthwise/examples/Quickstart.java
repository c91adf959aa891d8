package dev.lengthwise.examples;

import dev.lengthwise.examples.set.FetchRow;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Style;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/**
 * Takes Tidegate or another set, checks a lane and a row of lanes in Java, and writes RTL and
 * benches.
 */
@Command(
    name = "quickstart",
    description = "Builds a pre-decoder for the controller of a tidal lock gate, or another set.")
final class Quickstart implements Callable<Integer> {

  @Mixin private SetOption of = new SetOption("tidegate");

  @Option(
      names = "--style",
      split = ",",
      description = "what to build it of: ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private List<Style> styles = List.of(Style.ROM, Style.BANKED);

  @Mixin private OutFolder out = new OutFolder("quickstart");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    Predecoder lane = of.set().lane();
    LaneReport report = new LaneReport(spec.commandLine().getOut(), out.writable());
    boolean passed = report.run(lane, styles);
    return report.row(FetchRow.of(lane)) && passed ? 0 : 1;
  }
}

package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.WrittenDesign;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/**
 * Runs an emitted VHDL bench in GHDL (Debian package {@code ghdl}), with RTL and bench analysed as
 * one edition of the language: GHDL mixes none.
 */
public final class Ghdl implements Simulator {

  /** An edition of IEEE 1076. */
  public enum Edition {
    /** IEEE 1076-1993. */
    IEEE_1993("93"),
    /** IEEE 1076-2008. */
    IEEE_2008("08");

    private final String option;

    Edition(String option) {
      this.option = option;
    }
  }

  private final Edition edition;

  /**
   * Creates a runner.
   *
   * @param edition what to analyse as
   */
  public Ghdl(Edition edition) {
    this.edition = Objects.requireNonNull(edition, "edition");
  }

  @Override
  public String name() {
    return "GHDL " + edition.option;
  }

  @Override
  public SimulationResult run(Path tree, String design) {
    Objects.requireNonNull(design, "design");
    WrittenDesign written = WrittenDesign.of(tree, design);
    List<String> analyse = command("-a");
    analyse.addAll(written.vhdl());
    analyse.add(written.vhdlBench());
    List<String> elaborate = command("-e");
    elaborate.add(written.benchTop());
    List<String> run = command("-r");
    run.addAll(List.of(written.benchTop(), "-gvectors_file=" + written.vectors()));
    return SimulatorSteps.run(this, "ghdl", List.of(analyse, elaborate, run));
  }

  private List<String> command(String action) {
    return new ArrayList<>(List.of("ghdl", action, "--std=" + edition.option));
  }
}

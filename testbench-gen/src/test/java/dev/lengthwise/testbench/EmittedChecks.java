package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Linter;
import dev.lengthwise.testing.RtlEquivalence;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.List;

/** What every emitted design must pass. */
final class EmittedChecks {

  private EmittedChecks() {}

  /**
   * Asserts that a design passes all linters and its benches, and is the same in both languages.
   */
  static void pass(
      Design design, Path folder, int withEvery, List<? extends Simulator> simulators) {
    OutputTree.at(folder)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(300, 5).withEvery(withEvery))
        .write(design);
    EmittedTree tree = new EmittedTree(folder, design.name());
    for (Linter linter : Linter.values()) {
      assertWithMessage("%s", linter).that(linter.complaints(tree)).isEmpty();
    }
    for (Simulator simulator : simulators) {
      SimulationResult run = simulator.run(folder, design.name());
      assertWithMessage(run.output()).that(run.passed()).isTrue();
    }
    assertThat(RtlEquivalence.prove(tree)).isNotEmpty();
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.testing.Arrows;
import dev.lengthwise.testing.Slow;
import org.junit.jupiter.api.Test;

/** Holds the arrows between the packages of this module, the lowest first. */
@Slow
class ArrowsTest {

  private static final Arrows ARROWS =
      Arrows.of(
          """
          examples.suite: circuit file isa logic logic.function logic.network report table
          examples.terminal: file
          examples.set: isa isa.set logic.function predecode table
          examples.timing: cache circuit device examples.set examples.suite file isa logic.function predecode realize realize.cost report study.make table testbench.flow testbench.yardstick verilog
          examples: cache circuit device examples.set examples.suite examples.terminal examples.timing file golden isa javamodel lane.support logic logic.function logic.map logic.network logic.proof predecode realize realize.cost report stream study.accuracy study.advice study.fetch study.sweep study.workload table testbench testbench.run testbench.vector testbench.yardstick verilog vhdl
          """,
          "examples");

  @Test
  void methods_takeFiveArgumentsAtMost() {
    ARROWS.checkArguments(5);
  }

  @Test
  void packages_useWhatIsNamedAndNothingElse() {
    ARROWS.check();
  }
}

package dev.lengthwise.testbench;

import dev.lengthwise.testing.Arrows;
import dev.lengthwise.testing.Slow;
import org.junit.jupiter.api.Test;

/** Holds the arrows between the packages of this module, the lowest first. */
@Slow
class ArrowsTest {

  private static final Arrows ARROWS =
      Arrows.of(
          """
          testbench.cycle: cache predecode table
          testbench.tool: work
          testbench.flow: circuit circuit.translated name realize testbench.tool work
          testbench.run: testbench.tool
          testbench.vector: cache circuit.simulate golden predecode realize table testbench.cycle testbench.run work
          testbench.bench: name predecode realize table testbench.cycle testbench.vector
          testbench: circuit realize testbench.bench testbench.cycle testbench.vector
          testbench.yardstick: lane.function logic.function predecode predecode.row testbench.tool work
          javamodel: circuit name predecode predecode.row realize table
          """,
          "testbench",
          "javamodel");

  @Test
  void packages_useWhatIsNamedAndNothingElse() {
    ARROWS.check();
  }
}

package dev.lengthwise.testbench;

import dev.lengthwise.testing.Arrows;
import org.junit.jupiter.api.Test;

/** Holds the arrows between the packages of this module, the lowest first. */
class ArrowsTest {

  private static final Arrows ARROWS =
      Arrows.of(
          """
          testbench.vector: cache predecode table
          testbench.bench: name predecode realize table testbench.vector
          testbench: circuit realize testbench.bench testbench.vector
          testbench.run: circuit predecode realize table testbench.vector work
          testbench.yardstick: lane.function logic.function predecode testbench.run work
          javamodel: circuit name predecode realize table
          """);

  @Test
  void packages_useWhatIsNamedAndNothingElse() {
    ARROWS.check("testbench", "javamodel");
  }
}

package dev.lengthwise.vhdl;

import dev.lengthwise.testing.Arrows;
import dev.lengthwise.testing.Slow;
import org.junit.jupiter.api.Test;

/** Holds the arrows between the packages of this module, the lowest first. */
@Slow
class ArrowsTest {

  private static final Arrows ARROWS =
      Arrows.of(
          """
          vhdl: circuit circuit.text name
          """,
          "vhdl");

  @Test
  void packages_useWhatIsNamedAndNothingElse() {
    ARROWS.check();
  }
}

package dev.lengthwise.examples.suite;

import java.util.List;

/** Tables of elementary functions, rounded to the nearest. Common practice, no source. */
final class Elementary {

  private static final String PRACTICE = "common practice, no source";

  private Elementary() {}

  static List<SuiteFunction> all() {
    return List.of(
        SuiteFunction.of("sine_8", PRACTICE, WordTables.of(8, 8, x -> sine(x, 8))),
        SuiteFunction.of("sine_10", PRACTICE, WordTables.of(10, 8, x -> sine(x, 10))),
        SuiteFunction.of(
            "logarithm_8",
            PRACTICE,
            WordTables.of(
                8,
                8,
                x -> (int) StrictMath.rint(32 * StrictMath.log(x) / StrictMath.log(2)),
                x -> x > 0)),
        SuiteFunction.of(
                "square_root_10", PRACTICE, WordTables.of(10, 5, x -> (int) StrictMath.sqrt(x)))
            .withFormula(
                "integer i;",
                "reg [4:0] r;",
                "always @* begin",
                "  r = 0;",
                "  for (i = 4; i >= 0; i = i - 1)",
                "    if ((r | 10'd1 << i) * (r | 10'd1 << i) <= x) r = r | 5'd1 << i;",
                "end",
                "assign y = r;"));
  }

  /** The first quarter of a wave, taken between the steps so that it can be mirrored. */
  private static int sine(int x, int bits) {
    return (int) StrictMath.rint(255 * StrictMath.sin((x + 0.5) * StrictMath.PI / (2 << bits)));
  }
}

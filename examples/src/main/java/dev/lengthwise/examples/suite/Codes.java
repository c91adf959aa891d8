package dev.lengthwise.examples.suite;

import static dev.lengthwise.examples.suite.WordTables.bits;

import java.util.List;

/** Displays, Gray code and decimal digits. Common practice, no source, but where it is named. */
final class Codes {

  private static final String PRACTICE = "common practice, no source";

  /** Segments a to g of 0 to F, a being bit 0. */
  private static final int[] SEGMENTS = {
    0x3f, 0x06, 0x5b, 0x4f, 0x66, 0x6d, 0x7d, 0x07, 0x7f, 0x6f, 0x77, 0x7c, 0x39, 0x5e, 0x79, 0x71
  };

  private Codes() {}

  static List<SuiteFunction> all() {
    return List.of(
        SuiteFunction.of(
            "seven_segment_digit", PRACTICE, WordTables.of(4, 7, x -> SEGMENTS[x], x -> x < 10)),
        SuiteFunction.of("seven_segment_hex", PRACTICE, WordTables.of(4, 7, x -> SEGMENTS[x]))
            .withKnown(6, 7, SuiteFunction.A_LUT_EACH)
            .withKnown(4, 7, SuiteFunction.A_LUT_EACH),
        grayToBinary(),
        addDigits(),
        binaryToDigits(),
        digitsToBinary());
  }

  /** Each bit takes one LUT behind the bit above it, and the highest none. */
  private static SuiteFunction grayToBinary() {
    Gates gates = new Gates(8);
    int[] out = Gates.inputs(0, 8);
    for (int i = 6; i >= 0; i--) {
      out[i] = gates.xor(out[i], out[i + 1]);
    }
    return SuiteFunction.of(
            "gray_to_binary_8",
            "F. Gray, US patent 2632058 (1953), from memory",
            WordTables.of(
                8, 8, x -> x ^ x >> 1 ^ x >> 2 ^ x >> 3 ^ x >> 4 ^ x >> 5 ^ x >> 6 ^ x >> 7))
        .withFormula("assign y = {x[7], x[6:0] ^ y[7:1]};")
        .withGates(gates.build(out))
        .withKnown(6, 7, SuiteFunction.A_LUT_EACH)
        .withKnown(4, 7, SuiteFunction.A_LUT_EACH);
  }

  /** Two decimal digits and a carry; what is no digit does not matter. */
  private static SuiteFunction addDigits() {
    return SuiteFunction.of(
            "add_digits",
            PRACTICE,
            WordTables.of(
                9,
                5,
                x -> {
                  int sum = bits(x, 0, 4) + bits(x, 4, 4) + (x >> 8);
                  return sum > 9 ? sum + 6 : sum;
                },
                x -> bits(x, 0, 4) < 10 && bits(x, 4, 4) < 10))
        .withFormula(
            "wire [4:0] s = x[3:0] + x[7:4] + x[8];", "assign y = s > 5'd9 ? s + 5'd6 : s;");
  }

  private static SuiteFunction binaryToDigits() {
    return SuiteFunction.of(
            "binary_to_digits_8",
            PRACTICE,
            WordTables.of(8, 10, x -> x / 100 << 8 | x / 10 % 10 << 4 | x % 10))
        .withFormula(
            "wire [1:0] h = x / 8'd100;",
            "wire [3:0] t = (x / 8'd10) % 8'd10;",
            "wire [3:0] u = x % 8'd10;",
            "assign y = {h, t, u};")
        .withFormula(
            "integer i;",
            "reg [9:0] d;",
            "always @* begin",
            "  d = 0;",
            "  for (i = 7; i >= 0; i = i - 1) begin",
            "    if (d[3:0] > 4) d[3:0] = d[3:0] + 4'd3;",
            "    if (d[7:4] > 4) d[7:4] = d[7:4] + 4'd3;",
            "    d = {d[8:0], x[i]};",
            "  end",
            "end",
            "assign y = d;");
  }

  private static SuiteFunction digitsToBinary() {
    return SuiteFunction.of(
            "digits_to_binary_8",
            PRACTICE,
            WordTables.of(
                8,
                7,
                x -> bits(x, 4, 4) * 10 + bits(x, 0, 4),
                x -> bits(x, 0, 4) < 10 && bits(x, 4, 4) < 10))
        .withFormula("assign y = x[7:4] * 7'd10 + x[3:0];");
  }
}

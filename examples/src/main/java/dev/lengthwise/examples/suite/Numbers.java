package dev.lengthwise.examples.suite;

import static dev.lengthwise.examples.suite.WordTables.bits;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;

/** Leading zeros, priority, rounding and normalising. */
final class Numbers {

  private static final String PRACTICE = "common practice, no source";

  private Numbers() {}

  static List<SuiteFunction> all() {
    return List.of(
        leadingZeros(8),
        leadingZeros(12),
        priority(),
        integerToFloat(),
        floatToInteger(),
        roundHalfEven(),
        normalise(),
        muLaw());
  }

  private static SuiteFunction leadingZeros(int width) {
    Gates gates = new Gates(width);
    int[] count = Gates.constant(width, 4);
    for (int i = 0; i < width; i++) {
      int[] here = Gates.constant(width - 1 - i, 4);
      for (int bit = 0; bit < 4; bit++) {
        count[bit] = gates.mux(i, count[bit], here[bit]);
      }
    }
    return SuiteFunction.of(
            "leading_zeros_" + width,
            PRACTICE,
            WordTables.of(width, 4, x -> Integer.numberOfLeadingZeros(x) - 32 + width))
        .withFormula(
            "integer i;",
            "reg [3:0] n;",
            "always @* begin",
            SuiteFunction.line("  n = %d;", width),
            SuiteFunction.line(
                "  for (i = 0; i < %d; i = i + 1) if (x[i]) n = %d - i;", width, width - 1),
            "end",
            "assign y = n;")
        .withGates(gates.build(count));
  }

  /** Which of ten requests is the lowest, where there is one, and whether there is. */
  private static SuiteFunction priority() {
    Gates gates = new Gates(10);
    int[] index = Gates.constant(0, 5);
    for (int i = 9; i >= 0; i--) {
      int[] here = Gates.constant(16 | i, 5);
      for (int bit = 0; bit < 5; bit++) {
        index[bit] = gates.mux(i, index[bit], here[bit]);
      }
    }
    var whole = WordTables.of(10, 1, x -> x != 0 ? 1 : 0);
    var which = WordTables.of(10, 4, Integer::numberOfTrailingZeros, x -> x != 0);
    return SuiteFunction.of("priority_10", PRACTICE, WordTables.joined(which, whole))
        .withFormula(
            "integer i;",
            "reg [3:0] n;",
            "always @* begin",
            "  n = 4'bx;",
            "  for (i = 9; i >= 0; i = i - 1) if (x[i]) n = i;",
            "end",
            "assign y = {|x, n};")
        .withGates(gates.build(index));
  }

  /**
   * Eight bits as a float of four fraction and three exponent bits, nearest, ties to even: the
   * float (e, m) stands for m if e is 0, else for (16 + m) 2^(e - 1).
   */
  private static SuiteFunction integerToFloat() {
    return SuiteFunction.of(
            "integer_to_float_8",
            PRACTICE,
            WordTables.of(
                8,
                7,
                x -> {
                  int shift = Math.max(0, 27 - Integer.numberOfLeadingZeros(x));
                  return (shift << 4) + nearest(x, shift);
                }))
        .withFormula(
            "reg [6:0] r;",
            "always @* casez (x[7:5])",
            "  3'b1??: r = 7'd48 + x[7:3] + (x[2] & (|x[1:0] | x[3]));",
            "  3'b01?: r = 7'd32 + x[6:2] + (x[1] & (x[0] | x[2]));",
            "  3'b001: r = 7'd16 + x[5:1] + (x[0] & x[1]);",
            "  default: r = x[4:0];",
            "endcase",
            "assign y = r;");
  }

  /** Returns x 2^-shift as the nearest integer, the even one of two. */
  private static int nearest(int x, int shift) {
    int half = shift == 0 ? 0 : 1 << (shift - 1);
    int rest = bits(x, 0, shift);
    int whole = x >> shift;
    return rest > half || rest == half && half > 0 && (whole & 1) != 0 ? whole + 1 : whole;
  }

  /** A sign, three exponent and four fraction bits, (16 + m) 2^(e - 5), as a signed byte. */
  private static SuiteFunction floatToInteger() {
    return SuiteFunction.of(
            "float_to_integer_8",
            PRACTICE,
            WordTables.of(
                8,
                8,
                x -> {
                  int size = nearest((16 + bits(x, 0, 4)) << bits(x, 4, 3), 5);
                  return x >= 128 ? -size : size;
                }))
        .withFormula(
            "wire [11:0] w = {1'b1, x[3:0]} << x[6:4];",
            "wire [7:0] r = w[11:5] + (w[4] & (|w[3:0] | w[5]));",
            "assign y = x[7] ? -r : r;");
  }

  /** Six bits before the point and four behind it as six bits, saturated. */
  private static SuiteFunction roundHalfEven() {
    return SuiteFunction.of(
            "round_half_even_10", PRACTICE, WordTables.of(10, 6, x -> Math.min(63, nearest(x, 4))))
        .withFormula(
            "wire [6:0] r = x[9:4] + (x[3] & (|x[2:0] | x[4]));",
            "assign y = r[6] ? 6'd63 : r[5:0];");
  }

  /** A byte shifted until its highest bit is 1, and how far; 0 is shifted by 7. */
  private static SuiteFunction normalise() {
    return SuiteFunction.of(
            "normalise_8",
            PRACTICE,
            WordTables.of(
                8,
                11,
                x -> {
                  int shift = Math.min(7, Integer.numberOfLeadingZeros(x) - 24);
                  return x << shift & 0xff | shift << 8;
                }))
        .withFormula(
            "integer i;",
            "reg [2:0] n;",
            "always @* begin",
            "  n = 7;",
            "  for (i = 0; i < 8; i = i + 1) if (x[i]) n = 7 - i;",
            "end",
            "wire [7:0] m = x << n;",
            "assign y = {n, m};");
  }

  /** Fourteen bits in two's complement as a byte of the mu-law. */
  private static SuiteFunction muLaw() {
    return SuiteFunction.of(
            "mu_law_14",
            "ITU-T G.711, table 2, from memory",
            WordTables.of(
                14,
                8,
                x -> {
                  int value = x >= 1 << 13 ? x - (1 << 14) : x;
                  int biased = Math.min(8158, Math.abs(value)) + 33;
                  int exponent = 26 - Integer.numberOfLeadingZeros(biased);
                  return ~((value < 0 ? 0x80 : 0) | exponent << 4 | bits(biased, exponent + 1, 4))
                      & 0xff;
                }))
        .withFormula(
            "wire [13:0] m = x[13] ? -x : x;",
            "wire [12:0] c = (m > 14'd8158 ? 14'd8158 : m) + 14'd33;",
            "reg [6:0] k;",
            "always @* casez (c[12:5])",
            "  8'b1???????: k = {3'd7, c[11:8]};",
            "  8'b01??????: k = {3'd6, c[10:7]};",
            "  8'b001?????: k = {3'd5, c[9:6]};",
            "  8'b0001????: k = {3'd4, c[8:5]};",
            "  8'b00001???: k = {3'd3, c[7:4]};",
            "  8'b000001??: k = {3'd2, c[6:3]};",
            "  8'b0000001?: k = {3'd1, c[5:2]};",
            "  default: k = {3'd0, c[4:1]};",
            "endcase",
            "assign y = ~{x[13], k};")
        .withGates(compressor());
  }

  /** The amount, at most 8158, and 33; the first of its ones says which four bits follow. */
  private static LutNetwork compressor() {
    Gates gates = new Gates(14);
    int sign = 13;
    int[] turned = IntStream.range(0, 14).map(i -> gates.xor(i, sign)).toArray();
    int[] amount = gates.add(turned, Gates.constant(0, 14), sign);
    int[] most = Gates.constant(8158, 14);
    int over = gates.less(most, Arrays.copyOf(amount, 14));
    int[] clipped = IntStream.range(0, 13).map(i -> gates.mux(over, amount[i], most[i])).toArray();
    int[] sum = gates.add(clipped, Gates.constant(33, 13), LutNetwork.ZERO);
    int[] code = new int[7];
    System.arraycopy(sum, 1, code, 0, 4);
    Arrays.fill(code, 4, 7, LutNetwork.ZERO);
    for (int exponent = 1; exponent < 8; exponent++) {
      int[] number = Gates.constant(exponent, 3);
      for (int bit = 0; bit < 7; bit++) {
        int one = bit < 4 ? sum[exponent + 1 + bit] : number[bit - 4];
        code[bit] = gates.mux(sum[5 + exponent], code[bit], one);
      }
    }
    int[] out = new int[8];
    for (int bit = 0; bit < 7; bit++) {
      out[bit] = gates.not(code[bit]);
    }
    out[7] = gates.not(sign);
    return gates.build(out);
  }
}

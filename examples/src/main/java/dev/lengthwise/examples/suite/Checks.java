package dev.lengthwise.examples.suite;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.Arrays;
import java.util.List;

/** Check sums and codes that correct. */
final class Checks {

  private static final int CRC32 = 0xedb88320;

  private Checks() {}

  static List<SuiteFunction> all() {
    return List.of(crc(), parity(), hamming());
  }

  /** What a byte adds to the remainder, the bits reflected. */
  private static SuiteFunction crc() {
    Gates gates = new Gates(8);
    int[] state = new int[32];
    Arrays.fill(state, LutNetwork.ZERO);
    System.arraycopy(Gates.inputs(0, 8), 0, state, 0, 8);
    for (int step = 0; step < 8; step++) {
      int[] next = new int[32];
      for (int i = 0; i < 32; i++) {
        int shifted = i == 31 ? LutNetwork.ZERO : state[i + 1];
        next[i] = (CRC32 >>> i & 1) != 0 ? gates.xor(shifted, state[0]) : shifted;
      }
      state = next;
    }
    return SuiteFunction.of(
            "crc32_byte",
            "IEEE 802.3, section 3.2.9",
            WordTables.of(
                8,
                32,
                x -> {
                  int rest = x;
                  for (int step = 0; step < 8; step++) {
                    rest = rest >>> 1 ^ ((rest & 1) != 0 ? CRC32 : 0);
                  }
                  return rest;
                }))
        .withFormula(
            "integer i;",
            "reg [31:0] r;",
            "always @* begin",
            "  r = x;",
            "  for (i = 0; i < 8; i = i + 1) r = (r >> 1) ^ (r[0] ? 32'hedb88320 : 32'd0);",
            "end",
            "assign y = r;")
        .withGates(gates.build(state));
  }

  private static SuiteFunction parity() {
    Gates gates = new Gates(16);
    int parity = LutNetwork.ZERO;
    for (int i = 0; i < 16; i++) {
      parity = gates.xor(parity, i);
    }
    return SuiteFunction.of(
            "parity_16",
            "common practice, no source",
            WordTables.of(16, 1, x -> Integer.bitCount(x) & 1))
        .withFormula("assign y = ^x;")
        .withGates(gates.build(parity))
        .withKnown(6, 3, "16 inputs take 3 LUTs so the least")
        .withKnown(4, 5, "16 inputs take 5 LUTs so the least");
  }

  /** Fifteen bits with one fault at most to eleven; input i is place i + 1. */
  private static SuiteFunction hamming() {
    return SuiteFunction.of(
            "hamming_15_11",
            "R. W. Hamming, Bell System Technical Journal 29 (1950), from memory",
            WordTables.of(15, 11, Checks::corrected))
        .withFormula(
            "wire [3:0] s = {^(x & 15'h7f80), ^(x & 15'h7878), ^(x & 15'h6666), ^(x & 15'h5555)};",
            "wire [15:0] c = {x, 1'b0} ^ (16'd1 << s);",
            "assign y = {c[15:9], c[7:5], c[3]};")
        .withGates(corrector());
  }

  /** The places of ones are added without carries; what the sum names is turned over. */
  private static LutNetwork corrector() {
    Gates gates = new Gates(15);
    int[] sum = new int[4];
    Arrays.fill(sum, LutNetwork.ZERO);
    for (int place = 1; place < 16; place++) {
      for (int bit = 0; bit < 4; bit++) {
        sum[bit] = (place >> bit & 1) != 0 ? gates.xor(sum[bit], place - 1) : sum[bit];
      }
    }
    int[] data = {3, 5, 6, 7, 9, 10, 11, 12, 13, 14, 15};
    return gates.build(
        Arrays.stream(data)
            .map(place -> gates.xor(place - 1, gates.equal(sum, Gates.constant(place, 4))))
            .toArray());
  }

  private static int corrected(int x) {
    int word = x << 1;
    int syndrome = 0;
    for (int place = 1; place < 16; place++) {
      syndrome ^= (word >> place & 1) != 0 ? place : 0;
    }
    word ^= 1 << syndrome;
    return word >> 9 << 4 | (word >> 5 & 7) << 1 | word >> 3 & 1;
  }
}

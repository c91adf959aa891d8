package dev.lengthwise.examples.suite;

import java.util.List;

/** Multiplexers, decoders and shifters. Common practice, no source. */
final class Selectors {

  private static final String PRACTICE = "common practice, no source";

  private Selectors() {}

  static List<SuiteFunction> all() {
    return List.of(mux(), decoder(), rotate());
  }

  /** Eight data inputs and three that select. */
  private static SuiteFunction mux() {
    Gates gates = new Gates(11);
    int[] data = Gates.inputs(0, 8);
    for (int stage = 0; stage < 3; stage++) {
      for (int i = 0; i < 4 >> stage; i++) {
        data[i] = gates.mux(8 + stage, data[2 * i], data[2 * i + 1]);
      }
    }
    return SuiteFunction.of("mux_8", PRACTICE, WordTables.of(11, 1, x -> x >> (x >> 8) & 1))
        .withFormula("assign y = x[x[10:8]];")
        .withGates(gates.build(data[0]))
        .withKnown(6, 3, "two LUTs hold 11 inputs only if one is disjoint so the least")
        .withKnown(4, 5, "a mux of four in two LUTs: common practice from memory");
  }

  private static SuiteFunction decoder() {
    Gates gates = new Gates(5);
    int[] out = new int[32];
    for (int code = 0; code < 32; code++) {
      out[code] = gates.equal(Gates.inputs(0, 5), Gates.constant(code, 5));
    }
    return SuiteFunction.of("decoder_5", PRACTICE, WordTables.of(5, 32, x -> 1 << x))
        .withFormula("assign y = 32'd1 << x;")
        .withGates(gates.build(out))
        .withKnown(6, 32, SuiteFunction.A_LUT_EACH)
        .withKnown(4, 36, SuiteFunction.BY_HAND);
  }

  /** A byte turned left by three bits' number. */
  private static SuiteFunction rotate() {
    Gates gates = new Gates(11);
    int[] data = Gates.inputs(0, 8);
    for (int stage = 0; stage < 3; stage++) {
      int[] turned = new int[8];
      for (int i = 0; i < 8; i++) {
        turned[i] = gates.mux(8 + stage, data[i], data[i + 8 - (1 << stage) & 7]);
      }
      data = turned;
    }
    return SuiteFunction.of(
            "rotate_8",
            PRACTICE,
            WordTables.of(11, 8, x -> ((x & 0xff) * 0x101 << (x >> 8)) >> 8 & 0xff))
        .withFormula("wire [15:0] w = {x[7:0], x[7:0]} << x[10:8];", "assign y = w[15:8];")
        .withGates(gates.build(data))
        .withKnown(6, 16, SuiteFunction.BY_HAND)
        .withKnown(4, 24, SuiteFunction.BY_HAND);
  }
}

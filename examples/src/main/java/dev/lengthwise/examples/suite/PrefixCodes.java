package dev.lengthwise.examples.suite;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/** Prefix codes of open standards, from memory. */
final class PrefixCodes {

  /**
   * RFC 7541, appendix B: symbols by the length of their codes, in hexadecimal, the end of the
   * string (256) left out.
   */
  private static final List<String> HPACK =
      List.of(
          "5: 30-32 61 63 65 69 6f 73 74",
          "6: 20 25 2d-2f 33-39 3d 41 5f 62 64 66-68 6c-6e 70 72 75",
          "7: 3a 42-57 59 6a 6b 71 76-7a",
          "8: 26 2a 2c 3b 58 5a",
          "10: 21 22 28 29 3f",
          "11: 27 2b 7c",
          "12: 23 3e",
          "13: 00 24 40 5b 5d 7e",
          "14: 5e 7d",
          "15: 3c 60 7b",
          "19: 5c c3 d0",
          "20: 80 82 83 a2 b8 c2 e0 e2",
          "21: 99 a1 a7 ac b0 b1 b3 d1 d8 d9 e3 e5 e6",
          "22: 81 84-86 88 92 9a 9c a0 a3 a4 a9 aa ad b2 b5 b9-bb bd be c4 c6 e4 e8 e9",
          "23: 01 87 89-8d 8f 93 95-98 9b 9d 9e a5 a6 a8 ae af b4 b6 b7 bc bf c5 e7 ef",
          "24: 09 8e 90 91 94 9f ab ce d7 e1 ec ed",
          "25: c7 cf ea eb",
          "26: c0 c1 c8-ca cd d2 d5 da db ee f0 f2 f3 ff",
          "27: cb cc d3 d4 d6 dd-df f1 f4-f8 fa-fe",
          "28: 02-08 0b 0c 0e-15 17-1a 1b-1f 7f dc f9",
          "30: 0a 0d 16");

  /** ITU-T T.81 (JPEG), table K.3: the length of the code of each category of differences. */
  private static final int[] JPEG_DC = {2, 3, 3, 3, 3, 3, 4, 5, 6, 7, 8, 9};

  /** RFC 1951, section 3.2.5: the extra bits behind the codes 257 to 284 of lengths of matches. */
  private static final String DEFLATE_EXTRA = "0000000011112222333344445555";

  private PrefixCodes() {}

  /** One code: its symbol, its length and its bits. */
  record Code(int symbol, int length, int bits) {}

  static List<SuiteFunction> all() {
    int[] hpack = hpackLengths();
    return List.of(
        SuiteFunction.of(
            "hpack_length", "RFC 7541, appendix B", WordTables.of(8, 5, x -> hpack[x])),
        firstBits("hpack_first_byte", "RFC 7541, appendix B", new Decoder(codes(hpack), 8, 8, 4)),
        deflateFixed(),
        deflateLength(),
        firstBits("jpeg_dc", "ITU-T T.81, table K.3", new Decoder(codes(JPEG_DC), 9, 4, 4)));
  }

  /** Returns the length of each symbol's code. */
  static int[] hpackLengths() {
    int[] lengths = new int[256];
    for (String line : HPACK) {
      String[] parts = line.split(": ", -1);
      for (String range : parts[1].split(" ", -1)) {
        String[] ends = range.split("-", -1);
        int last = Integer.parseInt(ends[ends.length - 1], 16);
        for (int symbol = Integer.parseInt(ends[0], 16); symbol <= last; symbol++) {
          lengths[symbol] = Integer.parseInt(parts[0]);
        }
      }
    }
    return lengths;
  }

  /** Gives codes to symbols in the order of their lengths, each code following the one before. */
  static List<Code> codes(int[] lengths) {
    List<Integer> symbols =
        IntStream.range(0, lengths.length)
            .boxed()
            .sorted(Comparator.comparingInt(symbol -> lengths[symbol]))
            .toList();
    List<Code> codes = new ArrayList<>();
    int next = 0;
    int before = lengths[symbols.get(0)];
    for (int symbol : symbols) {
      next <<= lengths[symbol] - before;
      before = lengths[symbol];
      codes.add(new Code(symbol, before, next++));
    }
    return codes;
  }

  /**
   * What decodes the first code of a stream.
   *
   * @param codes the codes
   * @param bits the bits looked at, the first of the stream being the highest
   * @param symbolBits the width of a symbol
   * @param lengthBits the width of a length
   */
  private record Decoder(List<Code> codes, int bits, int symbolBits, int lengthBits) {}

  /** Says length and symbol of the code at the front, or the length 0 if more bits decide. */
  private static SuiteFunction firstBits(String name, String source, Decoder decoder) {
    int[] words = new int[1 << decoder.bits()];
    int end = 0;
    for (Code code : decoder.codes()) {
      int spare = decoder.bits() - code.length();
      if (spare >= 0) {
        end = (code.bits() + 1) << spare;
        Arrays.fill(
            words,
            code.bits() << spare,
            end,
            code.length() << decoder.symbolBits() | code.symbol());
      }
    }
    boolean all = decoder.codes().stream().allMatch(code -> code.length() <= decoder.bits());
    int coded = all ? end : words.length;
    var lengths =
        WordTables.of(
            decoder.bits(),
            decoder.lengthBits(),
            x -> words[x] >> decoder.symbolBits(),
            x -> x < coded);
    var symbols =
        WordTables.of(decoder.bits(), decoder.symbolBits(), x -> words[x], x -> words[x] != 0);
    return SuiteFunction.of(name, source, WordTables.joined(symbols, lengths));
  }

  /** Decodes nine bits in the fixed code of literals and lengths; two symbols never occur. */
  private static SuiteFunction deflateFixed() {
    return SuiteFunction.of(
            "deflate_fixed",
            "RFC 1951, section 3.2.6",
            WordTables.of(
                9,
                13,
                x -> {
                  if (x >> 2 < 24) {
                    return 7 << 9 | 256 + (x >> 2);
                  }
                  if (x >> 1 < 200) {
                    return 8 << 9 | (x >> 1 < 192 ? (x >> 1) - 48 : (x >> 1) - 192 + 280);
                  }
                  return 9 << 9 | x - 400 + 144;
                },
                x -> x >> 1 < 198 || x >> 1 >= 200))
        .withFormula(
            "reg [8:0] s;",
            "reg [3:0] n;",
            "always @*",
            "  if (x[8:2] < 24) begin n = 7; s = 9'd256 + x[8:2]; end",
            "  else if (x[8:1] < 192) begin n = 8; s = x[8:1] - 9'd48; end",
            "  else if (x[8:1] < 200) begin n = 8; s = 9'd88 + x[8:1]; end",
            "  else begin n = 9; s = x - 9'd256; end",
            "assign y = {n, s};");
  }

  /** From the length of a match, less 3, to its code, less 257, and the number of extra bits. */
  private static SuiteFunction deflateLength() {
    int[] words = new int[256];
    int from = 0;
    for (int code = 0; code < 28; code++) {
      int extra = Character.digit(DEFLATE_EXTRA.charAt(code), 10);
      int to = Math.min(255, from + (1 << extra));
      Arrays.fill(words, from, to, extra << 5 | code);
      from = to;
    }
    words[255] = 28;
    return SuiteFunction.of(
        "deflate_length", "RFC 1951, section 3.2.5", WordTables.of(8, 8, x -> words[x]));
  }
}

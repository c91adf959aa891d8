package dev.lengthwise.examples.suite;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import org.junit.jupiter.api.Test;

/** The tables against what is published, and against the platform. */
class SuiteTablesTest {

  static TruthTables tables(String name) {
    return Suite.functions().stream()
        .filter(function -> function.name().equals(name))
        .findFirst()
        .orElseThrow()
        .tables();
  }

  /** Returns some outputs as a word; all of them matter. */
  static int word(TruthTables function, int point, int from, int count) {
    int word = 0;
    for (int i = 0; i < count; i++) {
      TruthTable output = function.outputs().get(from + i);
      assertWithMessage("output %s of %s matters", from + i, point)
          .that(output.isCare(point))
          .isTrue();
      word |= (output.isOn(point) ? 1 : 0) << i;
    }
    return word;
  }

  static int word(TruthTables function, int point) {
    return word(function, point, 0, function.outputs().size());
  }

  static boolean matters(TruthTables function, int point, int output) {
    return function.outputs().get(output).isCare(point);
  }

  /** FIPS 197, figure 7: first and last row, and the example of section 5.1.1. */
  @Test
  void aesSbox_isThatOfTheStandard() {
    TruthTables box = tables("aes_sbox");
    assertThat(row(box, 0x00)).isEqualTo("637c777bf26b6fc53001672bfed7ab76");
    assertThat(row(box, 0xf0)).isEqualTo("8ca1890dbfe6426841992d0fb054bb16");
    assertThat(word(box, 0x53)).isEqualTo(0xed);
  }

  private static String row(TruthTables box, int from) {
    byte[] row = new byte[16];
    for (int i = 0; i < 16; i++) {
      row[i] = (byte) word(box, from + i);
    }
    return HexFormat.of().formatHex(row);
  }

  /**
   * FIPS 46-3, appendix 1: S1 of 011011 is 0101. Each row is a permutation, and inputs that differ
   * in one bit have outputs that differ in two or more, as do x and x + 001100 (D. Coppersmith, IBM
   * Journal of Research and Development 38 (1994), criteria S-3 to S-5); all from memory.
   */
  @Test
  void desBox_isThatOfTheStandard() {
    TruthTables box = tables("des_s1");
    assertThat(word(box, 0b011011)).isEqualTo(0b0101);
    for (int row : new int[] {0, 1, 0x20, 0x21}) {
      assertThat(
              IntStream.range(0, 16).map(column -> word(box, row | column << 1)).distinct().count())
          .isEqualTo(16);
    }
    for (int x = 0; x < 64; x++) {
      for (int change : new int[] {1, 2, 4, 8, 16, 32, 0b001100}) {
        assertThat(Integer.bitCount(word(box, x) ^ word(box, x ^ change))).isAtLeast(2);
      }
    }
  }

  /** A. Bogdanov and others, PRESENT (CHES 2007), section 3: from memory. */
  @Test
  void presentBox_meetsThePublishedConditions() {
    TruthTables box = tables("present_sbox");
    assertThat(word(box, 0)).isEqualTo(0xc);
    assertThat(word(box, 15)).isEqualTo(2);
    for (int x = 0; x < 16; x++) {
      for (int bit = 1; bit < 16; bit <<= 1) {
        assertThat(Integer.bitCount(word(box, x) ^ word(box, x ^ bit))).isAtLeast(2);
      }
    }
  }

  /** RFC 7541, appendix C: strings and their codes. */
  @Test
  void hpack_codesStringsAsPublished() {
    Map<Integer, PrefixCodes.Code> codes = new TreeMap<>();
    int[] lengths = PrefixCodes.hpackLengths();
    PrefixCodes.codes(lengths).forEach(code -> codes.put(code.symbol(), code));
    Map<String, String> published =
        Map.of(
            "www.example.com", "f1e3c2e5f23a6ba0ab90f4ff",
            "no-cache", "a8eb10649cbf",
            "custom-key", "25a849e95ba97d7f",
            "custom-value", "25a849e95bb8e8b4bf",
            "private", "aec3771a4b",
            "Mon, 21 Oct 2013 20:13:21 GMT", "d07abe941054d444a8200595040b8166e082a62d1bff",
            "https://www.example.com", "9d29ad171863c78f0b97c8e9ae82ae43d3");
    published.forEach(
        (text, code) -> assertWithMessage(text).that(coded(text, codes)).isEqualTo(code));
    // The end of the string has 30 bits; with it, no sequence of bits is without a meaning.
    assertThat(Arrays.stream(lengths).mapToLong(length -> 1L << 30 - length).sum() + 1)
        .isEqualTo(1L << 30);
    TruthTables table = tables("hpack_length");
    for (int symbol = 0; symbol < 256; symbol++) {
      assertThat(word(table, symbol)).isEqualTo(lengths[symbol]);
    }
  }

  private static String coded(String text, Map<Integer, PrefixCodes.Code> codes) {
    StringBuilder bits = new StringBuilder();
    for (byte symbol : text.getBytes(StandardCharsets.US_ASCII)) {
      PrefixCodes.Code code = codes.get((int) symbol);
      String digits = Integer.toBinaryString(code.bits());
      bits.append("0".repeat(code.length() - digits.length())).append(digits);
    }
    bits.append("1".repeat(-bits.length() & 7));
    StringBuilder hex = new StringBuilder();
    for (int i = 0; i < bits.length(); i += 4) {
      hex.append(Character.forDigit(Integer.parseInt(bits.substring(i, i + 4), 2), 16));
    }
    return hex.toString();
  }

  @Test
  void hpackFirstByte_decodesShortCodes() {
    TruthTables table = tables("hpack_first_byte");
    // RFC 7541, appendix B: '0' is 00000, ' ' is 010100, ':' is 1011100, 'Z' is 11111101.
    assertThat(word(table, 0b00000_111)).isEqualTo(5 << 8 | '0');
    assertThat(word(table, 0b010100_01)).isEqualTo(6 << 8 | ' ');
    assertThat(word(table, 0b1011100_1)).isEqualTo(7 << 8 | ':');
    assertThat(word(table, 0b11111101)).isEqualTo(8 << 8 | 'Z');
    assertThat(word(table, 0xfe, 8, 4)).isEqualTo(0);
    assertThat(matters(table, 0xfe, 0)).isFalse();
  }

  /** What the platform compresses in the fixed code, a literal at a time, is read back. */
  @Test
  void deflateFixed_readsWhatThePlatformWrites() {
    TruthTables table = tables("deflate_fixed");
    for (int literal = 0; literal < 256; literal++) {
      Deflater deflater = new Deflater(9, true);
      deflater.setInput(new byte[] {(byte) literal});
      deflater.finish();
      byte[] buffer = new byte[100];
      int bytes = deflater.deflate(buffer);
      deflater.end();
      // RFC 1951, section 3.2.3: a last block (1) of the fixed code (01), the lowest bit first.
      assertThat(buffer[0] & 7).isEqualTo(0b011);
      int code = word(table, first(buffer, bytes, 3));
      assertThat(code & 0x1ff).isEqualTo(literal);
      // Behind it is the end of the block, seven zeros.
      int end = word(table, first(buffer, bytes, 3 + (code >> 9)));
      assertThat(end).isEqualTo(7 << 9 | 256);
    }
    // RFC 1951, section 3.2.6: 280 is 11000000, 286 and 287 never occur.
    assertThat(word(table, 0b11000000_0)).isEqualTo(8 << 9 | 280);
    assertThat(matters(table, 0b11000110_0, 0)).isFalse();
  }

  /** Returns nine bits from a place on, the first as the highest. */
  private static int first(byte[] buffer, int bytes, int from) {
    int bits = 0;
    for (int i = from; i < from + 9; i++) {
      bits = bits << 1 | (i / 8 < bytes ? buffer[i / 8] >> i % 8 & 1 : 0);
    }
    return bits;
  }

  /** RFC 1951, section 3.2.5: the table's rows of the codes 257, 265, 273, 284 and 285. */
  @Test
  void deflateLength_isThatOfTheTable() {
    TruthTables table = tables("deflate_length");
    for (int[] row :
        new int[][] {
          {3, 257, 0}, {10, 264, 0}, {11, 265, 1}, {12, 265, 1}, {13, 266, 1}, {18, 268, 1},
          {19, 269, 2}, {35, 273, 3}, {67, 277, 4}, {131, 281, 5}, {227, 284, 5}, {257, 284, 5},
          {258, 285, 0}
        }) {
      assertThat(word(table, row[0] - 3)).isEqualTo(row[2] << 5 | row[1] - 257);
    }
  }

  /** ITU-T T.81, table K.3: the code words 00, 010, 110, 1110 and 111111110; from memory. */
  @Test
  void jpeg_isThatOfTheTable() {
    TruthTables table = tables("jpeg_dc");
    assertThat(word(table, 0b00_1010101)).isEqualTo(2 << 4);
    assertThat(word(table, 0b010_111111)).isEqualTo(3 << 4 | 1);
    assertThat(word(table, 0b110_000000)).isEqualTo(3 << 4 | 5);
    assertThat(word(table, 0b1110_00000)).isEqualTo(4 << 4 | 6);
    assertThat(word(table, 0b111111110)).isEqualTo(9 << 4 | 11);
    assertThat(matters(table, 0b111111111, 0)).isFalse();
    assertThat(matters(table, 0b111111111, 4)).isFalse();
  }

  @Test
  void crc_isThatOfThePlatform() {
    TruthTables table = tables("crc32_byte");
    for (int x = 0; x < 256; x++) {
      CRC32 crc = new CRC32();
      crc.update(x);
      // The register starts as ones and is inverted at the end (IEEE 802.3, section 3.2.9).
      assertThat(~(word(table, x ^ 0xff) ^ 0x00ffffff)).isEqualTo((int) crc.getValue());
    }
    // From memory of the tables in common use.
    assertThat(word(table, 1)).isEqualTo(0x77073096);
  }

  /** Every word of the code and every fault of one bit. */
  @Test
  void hamming_correctsEveryFaultOfOneBit() {
    TruthTables table = tables("hamming_15_11");
    for (int data = 0; data < 1 << 11; data++) {
      int word = (data & 1) << 3 | (data >> 1 & 7) << 5 | data >> 4 << 9;
      int sent = withChecks(word);
      assertThat(word(table, sent >> 1)).isEqualTo(data);
      for (int place = 1; place < 16; place += 3) {
        assertThat(word(table, (sent ^ 1 << place) >> 1)).isEqualTo(data);
      }
    }
  }

  private static int withChecks(int word) {
    int sent = word;
    for (int check = 1; check < 16; check <<= 1) {
      int ones = 0;
      for (int place = 1; place < 16; place++) {
        ones += (place & check) != 0 ? word >> place & 1 : 0;
      }
      sent |= (ones & 1) << check;
    }
    return sent;
  }

  /**
   * ITU-T G.711, table 2a: the decision values 31, 95, 223, 479, 991, 2015, 4063 and 8159 begin
   * segments, which end with the codes 10000000, 10001111 and so on; from memory.
   */
  @Test
  void muLaw_isThatOfTheTable() {
    TruthTables table = tables("mu_law_14");
    assertThat(word(table, 0)).isEqualTo(0xff);
    assertThat(word(table, 1)).isEqualTo(0xfe);
    assertThat(word(table, 2)).isEqualTo(0xfe);
    assertThat(word(table, 3)).isEqualTo(0xfd);
    int[] starts = {31, 95, 223, 479, 991, 2015, 4063};
    for (int segment = 0; segment < starts.length; segment++) {
      assertThat(word(table, starts[segment] - 1)).isEqualTo(0xff - (16 * segment + 15));
      assertThat(word(table, starts[segment])).isEqualTo(0xff - 16 * (segment + 1));
    }
    assertThat(word(table, 8158)).isEqualTo(0x80);
    assertThat(word(table, 8191)).isEqualTo(0x80);
    assertThat(word(table, (1 << 14) - 1)).isEqualTo(0x7e);
    assertThat(word(table, 1 << 13)).isEqualTo(0x00);
  }

  /** MCNC names: rd53 counts the ones of five inputs, 9sym is 1 for three to six of nine. */
  @Test
  void counts_areThoseOfThePublicNames() {
    for (int inputs : new int[] {5, 7, 8}) {
      TruthTables table = tables("rd" + inputs + (inputs == 8 ? 4 : 3));
      assertThat(table.outputs()).hasSize(inputs == 8 ? 4 : 3);
      for (int x = 0; x < 1 << inputs; x++) {
        int ones = 0;
        for (int i = 0; i < inputs; i++) {
          ones += x >> i & 1;
        }
        assertThat(word(table, x)).isEqualTo(ones);
      }
    }
    // The public table of 9sym has 420 ones: 84 + 126 + 126 + 84.
    assertThat(tables("9sym").outputs().get(0).onCount()).isEqualTo(420);
  }

  @Test
  void display_showsTheDigits() {
    TruthTables hex = tables("seven_segment_hex");
    // All segments but g; b and c; all; common practice, no source.
    assertThat(word(hex, 0)).isEqualTo(0b0111111);
    assertThat(word(hex, 1)).isEqualTo(0b0000110);
    assertThat(word(hex, 8)).isEqualTo(0b1111111);
    assertThat(List.of(word(hex, 0xa), word(hex, 0xb), word(hex, 0xf)))
        .containsExactly(0x77, 0x7c, 0x71)
        .inOrder();
  }

  @Test
  void sine_startsAtNoughtAndEndsAtTheTop() {
    TruthTables sine = tables("sine_8");
    assertThat(word(sine, 0)).isEqualTo(1);
    assertThat(word(sine, 255)).isEqualTo(255);
    // 255 sin 45 degrees is 180.3, and the slope there is 1.1 a step.
    assertThat(word(sine, 127)).isEqualTo(180);
    assertThat(word(sine, 128)).isEqualTo(181);
  }
}

package dev.lengthwise.examples.suite;

import static dev.lengthwise.examples.suite.WordTables.bits;

import java.util.List;

/** Substitution boxes of published ciphers, from memory; the first is computed. */
final class SubstitutionBoxes {

  private static final String DES_S1 =
      "e4d12fb83a6c5907" + "0f74e2d1a6cb9538" + "41e8d62bfc973a50" + "fc8249175b3ea06d";

  private static final String PRESENT = "c56b90ad3ef84712";

  private SubstitutionBoxes() {}

  static List<SuiteFunction> all() {
    return List.of(
        SuiteFunction.of("aes_sbox", "FIPS 197", WordTables.of(8, 8, SubstitutionBoxes::aes)),
        SuiteFunction.of("des_s1", "FIPS 46-3", WordTables.of(6, 4, SubstitutionBoxes::des))
            .withKnown(6, 4, SuiteFunction.A_LUT_EACH),
        SuiteFunction.of(
                "present_sbox",
                "ISO/IEC 29192-2",
                WordTables.of(4, 4, x -> Character.digit(PRESENT.charAt(x), 16)))
            .withKnown(6, 4, SuiteFunction.A_LUT_EACH)
            .withKnown(4, 4, SuiteFunction.A_LUT_EACH));
  }

  /** The first and the last bit choose a row of the standard's table, those between a column. */
  private static int des(int x) {
    int row = x >> 4 & 2 | x & 1;
    return Character.digit(DES_S1.charAt(16 * row + bits(x, 1, 4)), 16);
  }

  /** The inverse in the field of x^8 + x^4 + x^3 + x + 1, then the affine map. */
  private static int aes(int x) {
    int inverse = 1;
    for (int i = 0; i < 254; i++) {
      inverse = product(inverse, x);
    }
    int turned = inverse * 0x101;
    return (inverse ^ turned >> 4 ^ turned >> 5 ^ turned >> 6 ^ turned >> 7 ^ 0x63) & 0xff;
  }

  private static int product(int a, int b) {
    int result = 0;
    int power = a;
    for (int rest = b; rest != 0; rest >>= 1) {
      result ^= (rest & 1) != 0 ? power : 0;
      power = power << 1 ^ (power >= 0x80 ? 0x11b : 0);
    }
    return result;
  }
}

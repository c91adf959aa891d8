package dev.lengthwise.verilog;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.Contents;
import java.util.List;
import java.util.Random;
import java.util.SortedMap;
import java.util.function.IntUnaryOperator;
import org.junit.jupiter.api.Test;

class AddressPatternsTest {

  private static Contents table(int addressBits, IntUnaryOperator word) {
    long[] words = new long[1 << addressBits];
    for (int address = 0; address < words.length; address++) {
      words[address] = word.applyAsInt(address);
    }
    return Contents.of(8, words);
  }

  private static List<String> texts(List<AddressPatterns.Pattern> patterns, int bits) {
    return patterns.stream().map(pattern -> pattern.text(bits)).toList();
  }

  @Test
  void of_rangesOfOpcodesUnderAMode_takesOnePatternEach() {
    SortedMap<Long, List<AddressPatterns.Pattern>> found =
        AddressPatterns.of(table(9, a -> (a & 0xf0) == 0x40 ? 2 : (a & 0x1ff) == 0x1c4 ? 3 : 1));
    assertThat(texts(found.get(2L), 9)).containsExactly("9'b?_0100_????");
    assertThat(texts(found.get(3L), 9)).containsExactly("9'b1_1100_0100");
  }

  @Test
  void of_constant_isOnePatternOfAnyAddress() {
    assertThat(texts(AddressPatterns.of(table(3, a -> 7)).get(7L), 3)).containsExactly("3'b???");
  }

  @Test
  void of_randomTables_coverEachAddressOnceByItsWord() {
    Random random = new Random(5);
    for (int bits = 1; bits <= 10; bits++) {
      int words = 2 + random.nextInt(5);
      Contents contents = table(bits, a -> random.nextInt(words));
      SortedMap<Long, List<AddressPatterns.Pattern>> found = AddressPatterns.of(contents);
      for (int address = 0; address < 1 << bits; address++) {
        int covering = 0;
        for (var entry : found.entrySet()) {
          for (AddressPatterns.Pattern pattern : entry.getValue()) {
            if ((address & pattern.care()) == pattern.value()) {
              covering++;
              assertThat(entry.getKey()).isEqualTo(contents.word(address));
            }
          }
        }
        assertWithMessage("%s of %s bits", address, bits).that(covering).isEqualTo(1);
      }
    }
  }
}

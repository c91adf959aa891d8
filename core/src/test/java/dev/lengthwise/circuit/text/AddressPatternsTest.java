package dev.lengthwise.circuit.text;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.Contents;
import java.util.List;
import java.util.Random;
import java.util.SortedMap;
import java.util.function.IntUnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
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
    return patterns.stream()
        .map(
            pattern ->
                IntStream.range(0, bits)
                    .mapToObj(i -> "" + pattern.digit(bits - 1 - i, '-'))
                    .collect(Collectors.joining()))
        .toList();
  }

  @Test
  void of_rangesOfOpcodesUnderAMode_takesOnePatternEach() {
    SortedMap<Long, List<AddressPatterns.Pattern>> found =
        AddressPatterns.of(table(9, a -> (a & 0xf0) == 0x40 ? 2 : (a & 0x1ff) == 0x1c4 ? 3 : 1))
            .byWord();
    assertThat(texts(found.get(2L), 9)).containsExactly("-0100----");
    assertThat(texts(found.get(3L), 9)).containsExactly("111000100");
  }

  @Test
  void of_constant_isOnePatternOfAnyAddress() {
    assertThat(texts(AddressPatterns.of(table(3, a -> 7)).byWord().get(7L), 3))
        .containsExactly("---");
  }

  @Test
  void of_randomTables_coverEachAddressOnceByItsWord() {
    Random random = new Random(5);
    for (int bits = 1; bits <= 10; bits++) {
      int words = 2 + random.nextInt(5);
      Contents contents = table(bits, a -> random.nextInt(words));
      SortedMap<Long, List<AddressPatterns.Pattern>> found = AddressPatterns.of(contents).byWord();
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

  @Test
  void of_wordsThatFollowPatterns_countsThemAndLeavesOutTheRest() {
    AddressPatterns found =
        AddressPatterns.of(
            table(16, a -> (a & 3) != 3 ? 2 : (a & 0x1c) != 0x1c ? 4 : (a & 0x20) == 0 ? 6 : 0));
    assertThat(found.rest()).isEqualTo(4);
    assertThat(found.count()).isEqualTo(4);
    assertThat(texts(found.byWord().get(6L), 16)).containsExactly("----------011111");
  }
}

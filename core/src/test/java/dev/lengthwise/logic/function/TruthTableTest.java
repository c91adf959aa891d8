package dev.lengthwise.logic.function;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

class TruthTableTest {

  @Test
  void parse_roundTripsThroughText() {
    TruthTable table = TruthTable.parse("01-1");
    assertThat(table.toString()).isEqualTo("01-1");
    assertThat(table.isCare(2)).isFalse();
    assertThat(table.isOn(1)).isTrue();
    assertThat(table).isEqualTo(TruthTable.of(2, p -> (p & 1) != 0, p -> p != 2));
    assertThat(table.isComplete()).isFalse();
  }

  @Test
  void ofWords_masksDontCaresAndHighBits() {
    TruthTable table = TruthTable.ofWords(1, new long[] {-1L}, new long[] {-3L});
    assertThat(table.toString()).isEqualTo("1-");
    assertThat(table.onWords()[0]).isEqualTo(1L);
  }

  @Test
  void parse_wrongDigit_namesPosition() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> TruthTable.parse("01x1")))
        .hasMessageThat()
        .isEqualTo("truth table: a digit must be 0, 1 or -, found U+0078 at position 2");
  }

  @Test
  void parse_wrongLength_saysSo() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> TruthTable.parse("011")))
        .hasMessageThat()
        .isEqualTo("truth table: the number of digits must be a power of two, found 3");
  }

  @Test
  void of_inputsAtBoundAndPast() {
    assertThat(TruthTable.of(0, p -> true).toString()).isEqualTo("1");
    assertThat(assertThrows(IllegalArgumentException.class, () -> TruthTable.of(25, p -> true)))
        .hasMessageThat()
        .isEqualTo("truth table: the number of inputs must be in [0, 24], found 25");
  }
}

package dev.lengthwise.logic.function;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TruthTablesTest {

  @Test
  void parse_roundTripsThroughText() {
    TruthTables function = TruthTables.parse("inputs 2 outputs 2\n01-1\n\n0000\n");
    assertThat(function.inputNames()).containsExactly("x0", "x1").inOrder();
    assertThat(function.outputNames()).containsExactly("y0", "y1").inOrder();
    assertThat(function.outputs().get(0)).isEqualTo(TruthTable.parse("01-1"));
    assertThat(TruthTables.parse(function.toString())).isEqualTo(function);
    assertThat(function.select(1).outputs()).containsExactly(TruthTable.parse("0000"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "inputs 2|truth tables: line 1 must be 'inputs N outputs M', found inputs 2",
        "inputs 17 outputs 1|truth tables: line 1: the number of inputs must be in [0, 16],"
            + " found 17",
        ";inputs 1 outputs 257|truth tables: line 2: the number of outputs must be in [1, 256],"
            + " found 257",
        "inputs 1 outputs 99999|truth tables: line 1 must be 'inputs N outputs M',"
            + " found inputs 1 outputs 99999",
        "inputs 1 outputs 1;011|truth tables: line 2 must be 2 digits, found 3 characters",
        "inputs 1 outputs 1;0x|truth tables: line 2: truth table: a digit must be 0, 1 or -,"
            + " found U+0078 at position 1",
        "inputs 1 outputs 1;01;10|truth tables: line 3 must be empty after 1 outputs,"
            + " found 2 characters",
        "inputs 1 outputs 2;01|truth tables: must have a first line and 2 output lines,"
            + " found 1 output lines"
      })
  void parse_wrongText_namesTheLine(String text, String message) {
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> TruthTables.parse(text.replace(';', '\n'))))
        .hasMessageThat()
        .isEqualTo(message);
  }

  @Test
  void of_tableOfOtherSize_isRejected() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> TruthTables.of(List.of(TruthTable.parse("01"), TruthTable.parse("0110")))))
        .hasMessageThat()
        .isEqualTo("truth tables: output y1 must have 1 inputs, found 2");
  }
}

package dev.lengthwise.name;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class HdlNameTest {

  @ParameterizedTest
  @ValueSource(strings = {"a", "wide", "map0_length", "operand32"})
  void fault_legalName_isEmpty(String name) {
    assertThat(HdlName.fault(name)).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(strings = {"signal", "reg", "logic", "range", "boolean", "std_logic", "unsigned"})
  void fault_reservedWord_saysSo(String name) {
    assertThat(HdlName.fault(name))
        .hasValue(
            "a name must not be a reserved word of Verilog, VHDL or Java, found \"" + name + '"');
  }

  @ParameterizedTest
  @CsvSource({"9lives", "Wide", "a-b", "é", "'a b'", "_a", "'a;'"})
  void fault_wrongCharacters_saysSo(String name) {
    assertThat(HdlName.fault(name).orElseThrow())
        .startsWith("a name must be lower case letters, digits and underscores, first a letter");
  }

  @ParameterizedTest
  @ValueSource(strings = {"a__b", "a_"})
  void fault_underscores_saysSo(String name) {
    assertThat(HdlName.fault(name))
        .hasValue(
            "a name must not have two underscores in a row or one at its end, found \""
                + name
                + '"');
  }

  @Test
  void fault_lengthAtBoundAndPast_isToldApart() {
    assertThat(HdlName.fault("a".repeat(64))).isEmpty();
    assertThat(HdlName.fault("a".repeat(65)).orElseThrow())
        .startsWith("a name must have at most 64 characters, found ");
  }

  @Test
  void require_illegal_namesSubject() {
    IllegalArgumentException e =
        assertThrows(IllegalArgumentException.class, () -> HdlName.require("mode", "a\n*/"));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "mode: a name must be lower case letters, digits and underscores, first a letter,"
                + " found \"a\\u000a*/\"");
  }
}

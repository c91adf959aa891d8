package dev.lengthwise.table;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Where code units are words, every length is even: else the next word would stand astride two. */
class WordCodedTest {

  private static OperandSpecifier specifier(int bytes, int bytesIfFar) {
    return OperandSpecifier.named("place")
        .when(ModeCondition.off("far"), "xxxx_xxxx", bytes)
        .when(ModeCondition.on("far"), "xxxx_xxxx", bytesIfFar)
        .build();
  }

  private static LengthTable table(CodeUnit unit, Consumer<OpcodeMap.Builder> rows) {
    return LengthTable.named("gate")
        .unit(unit)
        .mode("far")
        .map(
            "base",
            map -> {
              rows.accept(map);
              map.row(2).escape("more").others().undefined();
            })
        .map("more", map -> map.row(3).bytes(6).others().undefined())
        .build();
  }

  private static void refused(Consumer<OpcodeMap.Builder> rows, String fault) {
    for (CodeUnit unit : new CodeUnit[] {CodeUnit.WORD_BIG_ENDIAN, CodeUnit.WORD_LITTLE_ENDIAN}) {
      assertThat(assertThrows(DescriptionException.class, () -> table(unit, rows)))
          .hasMessageThat()
          .isEqualTo(fault);
    }
    // Bytes have no place that is wrong.
    assertThat(table(CodeUnit.BYTE, rows).maps()).hasSize(2);
  }

  @Test
  void row_oddLength_isRefused() {
    refused(
        map -> map.row(1).bytes(5),
        "map base, row 0x01: lengths must be even where code units are words, found 5");
  }

  @Test
  void row_oddGrowth_isRefused() {
    refused(
        map -> map.row(1).bytes(4).grows("far", 1),
        "map base, row 0x01: lengths must be even where code units are words, found 5");
  }

  @Test
  void row_specifierThatMakesOddLengths_isRefused() {
    refused(
        map -> map.row(1).bytes(4).specifier(specifier(2, 3)),
        "map base, row 0x01: lengths must be even where code units are words, found 7");
  }

  @Test
  void nextByte_oddLength_isRefused() {
    refused(
        map -> map.row(1).byNextByte(next -> next.when("0xxx_xxxx").bytes(3).others().undefined()),
        "map base, row 0x01: lengths must be even where code units are words, found 3");
  }

  @Test
  void escape_oddSkip_isRefused() {
    // Not by way of the helper: the other escape to the map has another length of way.
    LengthTable.Builder table =
        LengthTable.named("gate")
            .unit(CodeUnit.WORD_BIG_ENDIAN)
            .map("base", map -> map.row(1).escape("more", 1).others().undefined())
            .map("more", map -> map.row(3).bytes(6).others().undefined());
    assertThat(assertThrows(DescriptionException.class, table::build))
        .hasMessageThat()
        .isEqualTo(
            "map base, row 0x01: bytes to skip must be even where code units are words, found 1");
  }

  @ParameterizedTest
  @EnumSource(CodeUnit.class)
  void row_oddBytesMadeEvenByTheSpecifier_isTaken(CodeUnit unit) {
    LengthTable table =
        table(unit, map -> map.row(1).bytes(5).grows("far", 1).specifier(specifier(1, 2)));
    assertThat(table.specifiers()).hasSize(1);
  }
}

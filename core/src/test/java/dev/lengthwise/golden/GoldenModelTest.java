package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.HexFormat;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class GoldenModelTest {

  private static final OperandSpecifier ADDRESS =
      OperandSpecifier.named("address")
          .when("00xx_xxxx", 0)
          .when(ModeCondition.off("wide"), "01xx_xxxx", 1)
          .when(ModeCondition.on("wide"), "01xx_xxxx", "1xxx_xxxx", 3)
          .when(ModeCondition.on("wide"), "01xx_xxxx", "0xxx_xxxx", 1)
          .when("1xxx_xxxx", 2)
          .build();

  private static final InstructionSet SET =
      InstructionSet.of(
          LengthTable.named("sample")
              .mode("wide")
              .map(
                  "base",
                  map ->
                      map.rows(0x00, 0x0f)
                          .bytes(1)
                          .rows(0x10, 0x1f)
                          .bytes(2)
                          .grows("wide", 2)
                          .rows(0x20, 0x2f)
                          .bytes(3)
                          .specifier(ADDRESS)
                          .row(0x30)
                          .byNextByte(
                              next ->
                                  next.when("0000_xxxx")
                                      .bytes(3)
                                      .when("0001_xxxx")
                                      .escape("far", 1)
                                      .others()
                                      .undefined())
                          .row(0x31)
                          .escape("near")
                          .others()
                          .undefined())
              .map("far", map -> map.rows("xxxx_xxx0").bytes(4).others().undefined())
              .map("near", map -> map.rows(0, 0xff).bytes(2))
              .build(),
          PrefixRules.builder().flips(0xf0, "wide").sets(0xf1, "wide").inert(0xf2).most(3).build(),
          6);

  private static final GoldenModel MODEL = GoldenModel.of(SET);

  @ParameterizedTest
  @CsvSource({
    "00, 0, LENGTH, 1",
    "1000, 0, LENGTH, 2",
    "10000000, 1, LENGTH, 4",
    "100000, 1, TOO_FEW_BYTES, 0",
    "f010000000, 0, LENGTH, 5",
    "f0f010000000, 0, LENGTH, 6",
    "f01000, 1, LENGTH, 3",
    "f110000000, 0, LENGTH, 5",
    "200000, 0, LENGTH, 3",
    "20400000, 0, LENGTH, 4",
    "204080000000, 1, LENGTH, 6",
    "20400000, 1, LENGTH, 4",
    "2040, 1, TOO_FEW_BYTES, 0",
    "2080000000, 0, LENGTH, 5",
    "300000, 0, LENGTH, 3",
    "30, 0, TOO_FEW_BYTES, 0",
    "30100a00, 0, LENGTH, 4",
    "30100b00, 0, UNDEFINED, 0",
    "3020, 0, UNDEFINED, 0",
    "3100, 0, LENGTH, 2",
    "ff, 0, UNDEFINED, 0",
    "f2f2f200, 0, LENGTH, 4",
    "f2f2f2f200, 0, TOO_MANY_PREFIXES, 0",
    "f2f2f2f2, 0, TOO_MANY_PREFIXES, 0",
    "f2f2f2, 0, TOO_FEW_BYTES, 0",
    "f2f0204080000000, 0, TOO_LONG, 0",
  })
  void lengthAt_bytes_givesOutcome(String hex, int modes, Outcome outcome, int length) {
    int packed = MODEL.lengthAt(modes, HexFormat.of().parseHex(hex), 0);
    assertThat(Outcome.of(packed)).isEqualTo(outcome);
    assertThat(Math.max(0, packed)).isEqualTo(length);
  }

  @Test
  void boundaries_stopAtFirstPlaceWithoutLength() {
    Boundaries found = MODEL.boundaries(0, HexFormat.of().parseHex("0010003100ff00"), 0, 7);
    assertThat(found.starts().boxed()).containsExactly(0, 1, 3).inOrder();
    assertThat(found.length(2)).isEqualTo(2);
    assertThat(found.end()).isEqualTo(5);
    assertThat(found.reason()).isEqualTo(Outcome.UNDEFINED);
  }

  @Test
  void boundaries_wholeRun_endsWithLength() {
    Boundaries found = MODEL.boundaries(0, HexFormat.of().parseHex("00100000"), 1, 4);
    assertThat(found.count()).isEqualTo(2);
    assertThat(found.reason()).isEqualTo(Outcome.LENGTH);
  }

  @ParameterizedTest
  @CsvSource({"WORD_BIG_ENDIAN, 4e75, 2", "WORD_LITTLE_ENDIAN, 754e0000, 4"})
  void lengthAt_wordUnits_readInOrder(CodeUnit unit, String hex, int length) {
    GoldenModel model =
        GoldenModel.of(
            InstructionSet.of(
                LengthTable.named("words")
                    .unit(unit)
                    .map(
                        "base",
                        map ->
                            map.rows("0100_1110_0111_0101")
                                .bytes(unit == CodeUnit.WORD_BIG_ENDIAN ? 2 : 4)
                                .others()
                                .undefined())
                    .build(),
                PrefixRules.NONE));
    assertThat(model.lengthAt(0, HexFormat.of().parseHex(hex), 0)).isEqualTo(length);
  }
}

package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.Outcome;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.HexFormat;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class Ia32Test {

  private static final LengthTable TABLE = Ia32.instructionSet().table();
  private static final GoldenModel MODEL = GoldenModel.of(Ia32.instructionSet());

  @Test
  void instructionSet_builtTwice_isEqual() {
    InstructionSet first = Ia32.instructionSet();
    InstructionSet second = Ia32.instructionSet();
    assertThat(second).isEqualTo(first);
  }

  @Test
  void modeWords_areThoseOfTheTable() {
    assertThat(TABLE.modeWord()).isEqualTo(Ia32.MODES_16);
    assertThat(TABLE.modeWord(Ia32.OPERAND32, Ia32.ADDRESS32)).isEqualTo(Ia32.MODES_32);
  }

  /** 74 one-byte opcodes take a ModR/M byte: our count of table A-2, LES and LDS included. */
  @Test
  void oneByteMap_opcodesWithModRm_are74() {
    OpcodeMap map = TABLE.map(Ia32.ONE_BYTE);
    assertThat(IntStream.range(0, 256).filter(code -> hasModRm(map.row(code))).count())
        .isEqualTo(74);
  }

  private static boolean hasModRm(Row row) {
    return row instanceof Row.ByNextByte next
        ? next.cases().stream().anyMatch(c -> hasModRm(c.row()))
        : row instanceof Row.Instruction instruction && instruction.specifier().isPresent();
  }

  @Test
  void maps_lieWhereTheirEscapesLead() {
    assertThat(TABLE.maps().stream().map(map -> TABLE.offsetOf(map.name())))
        .containsExactly(0, 1, 2, 2, 2, 3, 3, 3)
        .inOrder();
  }

  /** Worked out by hand from the manual's tables 2-1 to 2-3 and. */
  @ParameterizedTest
  @CsvSource({
    "90, LENGTH, 1, LENGTH, 1",
    "b8, LENGTH, 3, LENGTH, 5",
    "66b8, LENGTH, 6, LENGTH, 4",
    "6666b8, LENGTH, 7, LENGTH, 5",
    "a1, LENGTH, 3, LENGTH, 5",
    "67a1, LENGTH, 6, LENGTH, 4",
    "9a, LENGTH, 5, LENGTH, 7",
    "c8, LENGTH, 4, LENGTH, 4",
    "0f84, LENGTH, 4, LENGTH, 6",
    "8b06, LENGTH, 4, LENGTH, 2",
    "8b05, LENGTH, 2, LENGTH, 6",
    "8b0425, LENGTH, 2, LENGTH, 7",
    "8b4424, LENGTH, 3, LENGTH, 4",
    "8b8424, LENGTH, 4, LENGTH, 7",
    "678b0425, LENGTH, 8, LENGTH, 3",
    "f600, LENGTH, 3, LENGTH, 3",
    "f610, LENGTH, 2, LENGTH, 2",
    "f700, LENGTH, 4, LENGTH, 6",
    "66f700, LENGTH, 7, LENGTH, 5",
    "c7f8, LENGTH, 4, LENGTH, 6",
    "c7f9, UNDEFINED, 0, UNDEFINED, 0",
    "0f20c0, LENGTH, 3, LENGTH, 3",
    "0f2005, LENGTH, 3, LENGTH, 3",
    "8dc0, UNDEFINED, 0, UNDEFINED, 0",
    "c500, LENGTH, 2, LENGTH, 2",
    "c5f877, LENGTH, 3, LENGTH, 3",
    "c5fd5805, LENGTH, 4, LENGTH, 8",
    "c4e27d1805, LENGTH, 5, LENGTH, 9",
    "c4e37d1805, LENGTH, 6, LENGTH, 10",
    "c4e07d1805, UNDEFINED, 0, UNDEFINED, 0",
    "0f0b, LENGTH, 2, LENGTH, 2",
    "0f04, UNDEFINED, 0, UNDEFINED, 0",
    "2e2e2e2e2ef08107, LENGTH, 10, LENGTH, 12",
    "2e2e2e2e2e2e2ef0818424, LENGTH, 14, TOO_LONG, 0",
    "2e2e2e2e2e2e2e2e2e2e2e2e2e2e2e90, TOO_LONG, 0, TOO_LONG, 0",
  })
  void lengthAt_startOfInstruction_asInManual(
      String hex, Outcome outcome16, int length16, Outcome outcome32, int length32) {
    byte[] bytes = HexFormat.of().parseHex(hex + "00".repeat(16));
    int found16 = MODEL.lengthAt(Ia32.MODES_16, bytes, 0);
    int found32 = MODEL.lengthAt(Ia32.MODES_32, bytes, 0);
    assertThat(Outcome.of(found16)).isEqualTo(outcome16);
    assertThat(Math.max(0, found16)).isEqualTo(length16);
    assertThat(Outcome.of(found32)).isEqualTo(outcome32);
    assertThat(Math.max(0, found32)).isEqualTo(length32);
  }
}

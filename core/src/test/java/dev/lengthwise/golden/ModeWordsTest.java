package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Every golden function refuses a mode word that has a bit of no mode, in the same words. */
class ModeWordsTest {

  private static final OperandSpecifier PLACE =
      OperandSpecifier.named("place").when("0xxx_xxxx", 0).when("1xxx_xxxx", 1).build();

  private static final InstructionSet TWO = set("wide", "far");
  private static final InstructionSet NONE = set();

  private static InstructionSet set(String... modes) {
    LengthTable.Builder table = LengthTable.named("sample");
    for (String mode : modes) {
      table.mode(mode);
    }
    return InstructionSet.of(
        table
            .map("base", map -> map.rows(0, 0x7f).bytes(2).specifier(PLACE).others().undefined())
            .build(),
        PrefixRules.NONE,
        8);
  }

  /** Calls every golden function with a mode word. */
  private static List<Executable> calls(InstructionSet set, int modes) {
    byte[] memory = new byte[16];
    Predecoder lane = Predecoder.builder(set).build();
    LaneArray row = LaneArray.builder(lane, 4).build();
    List<Executable> calls = new ArrayList<>();
    GoldenModel golden = GoldenModel.of(set);
    calls.add(() -> golden.lengthAt(modes, memory, 0));
    calls.add(() -> golden.lengthAt(modes, memory, 0, 16));
    calls.add(() -> golden.boundaries(modes, memory, 0, 16));
    calls.add(() -> golden.boundariesAmongData(modes, memory, 0, 16));
    calls.add(() -> LaneModel.of(lane).lengthAt(modes, memory, 0));
    calls.add(() -> ArrayModel.of(row).look(modes, memory, 0, 0));
    calls.add(() -> ArrayModel.of(row).step(modes, memory, 0, ArrayModel.NO_REDIRECT));
    calls.add(() -> ArrayClock.of(row).offer(modes, memory, 0, 0));
    return calls;
  }

  @ParameterizedTest
  @ValueSource(ints = {4, 7, 0x100, -1, Integer.MIN_VALUE})
  void everyModel_bitOfNoMode_isRefusedWithTheModes(int modes) {
    for (Executable call : calls(TWO, modes)) {
      assertThat(assertThrows(IllegalArgumentException.class, call))
          .hasMessageThat()
          .isEqualTo(
              "table sample: a mode word may have the bits 0x1 wide, 0x2 far, found 0x"
                  + Integer.toHexString(modes));
    }
  }

  @Test
  void everyModel_tableWithoutModes_takesOnlyZero() throws Throwable {
    for (Executable call : calls(NONE, 1)) {
      assertThat(assertThrows(IllegalArgumentException.class, call))
          .hasMessageThat()
          .isEqualTo("table sample: a mode word must be 0, as there are no modes, found 0x1");
    }
    for (Executable call : calls(NONE, 0)) {
      call.execute();
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2, 3})
  void everyModel_anyModes_isTaken(int modes) throws Throwable {
    for (Executable call : calls(TWO, modes)) {
      call.execute();
    }
  }

  @Test
  void modeWord_unknownName_isRefusedWithTheModes() {
    assertThat(TWO.table().modeWord("far")).isEqualTo(2);
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> TWO.table().modeWord("far", "wied")))
        .hasMessageThat()
        .isEqualTo("table sample: a mode must be one of wide, far, found \"wied\"");
    assertThat(assertThrows(IllegalArgumentException.class, () -> NONE.table().modeWord("wide")))
        .hasMessageThat()
        .isEqualTo("table sample: there are no modes, found \"wide\"");
  }
}

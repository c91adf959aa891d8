package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.HexFormat;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** Where instructions start, up to an end and behind bytes that are none. */
class BoundariesTest {

  private static InstructionSet set(CodeUnit unit) {
    int step = unit.bytes();
    return InstructionSet.of(
        LengthTable.named("sample")
            .unit(unit)
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x0f)
                        .bytes(step)
                        .rows(0x10, 0x1f)
                        .bytes(2 * step)
                        .row(0x20)
                        .escape("more", step == 1 ? 3 : 2)
                        .others()
                        .undefined())
            .map("more", map -> map.rows(0, 0x7f).bytes(6).others().undefined())
            .build(),
        PrefixRules.builder().inert(0xf0).most(3).build(),
        8);
  }

  private static final GoldenModel MODEL = GoldenModel.of(set(CodeUnit.BYTE));

  private static byte[] bytes(String hex) {
    return HexFormat.of().parseHex(hex);
  }

  @Test
  void boundaries_end_isRespected() {
    byte[] memory = bytes("0010000000");
    Boundaries found = MODEL.boundaries(0, memory, 0, 3);
    assertThat(found.starts().boxed()).containsExactly(0, 1).inOrder();
    assertThat(found.end()).isEqualTo(3);
    assertThat(found.reason()).isEqualTo(Outcome.LENGTH);
    Boundaries cut = MODEL.boundaries(0, memory, 0, 2);
    assertThat(cut.starts().boxed()).containsExactly(0);
    assertThat(cut.end()).isEqualTo(1);
    assertThat(cut.reason()).isEqualTo(Outcome.TOO_FEW_BYTES);
  }

  @Test
  void boundariesAmongData_islands_arePassedOver() {
    Boundaries found = MODEL.boundariesAmongData(0, bytes("00ffff100000ff10"), 0, 8);
    assertThat(found.starts().boxed()).containsExactly(0, 3, 5).inOrder();
    assertThat(found.length(0)).isEqualTo(1);
    assertThat(found.length(1)).isEqualTo(2);
    assertThat(found.length(2)).isEqualTo(1);
    assertThat(found.end()).isEqualTo(6);
    assertThat(found.reason()).isEqualTo(Outcome.UNDEFINED);
  }

  @Test
  void boundariesAmongData_wordCoded_goesOnAtTheNextWord() {
    GoldenModel words = GoldenModel.of(set(CodeUnit.WORD_BIG_ENDIAN));
    byte[] memory = bytes("ff000000ff010011000200");
    Boundaries found = words.boundariesAmongData(0, memory, 0, memory.length);
    assertThat(found.starts().boxed()).containsExactly(2, 6).inOrder();
    assertThat(found.end()).isEqualTo(10);
    assertThat(found.reason()).isEqualTo(Outcome.TOO_FEW_BYTES);
  }

  @Test
  void boundariesAmongData_nothingDefined_endsWithoutStart() {
    Boundaries found = MODEL.boundariesAmongData(0, bytes("ffffff"), 1, 3);
    assertThat(found.count()).isEqualTo(0);
    assertThat(found.end()).isEqualTo(1);
    assertThat(found.reason()).isEqualTo(Outcome.UNDEFINED);
  }

  @ParameterizedTest
  @EnumSource(CodeUnit.class)
  void boundariesAmongData_anyBytes_isTheObviousWalk(CodeUnit unit) {
    GoldenModel model = GoldenModel.of(set(unit));
    Random random = new Random(3);
    for (int run = 0; run < 2000; run++) {
      byte[] memory = new byte[random.nextInt(40)];
      for (int i = 0; i < memory.length; i++) {
        memory[i] = (byte) (random.nextInt(4) == 0 ? random.nextInt() : random.nextInt(0x22));
      }
      int start = random.nextInt(memory.length + 1);
      int end = start + random.nextInt(memory.length - start + 1);
      Boundaries found = model.boundariesAmongData(0, memory, start, end);
      int count = 0;
      int at = start;
      while (at < end) {
        int length = model.lengthAt(0, memory, at, end);
        if (length > 0) {
          assertThat(found.start(count)).isEqualTo(at);
          assertThat(found.length(count++)).isEqualTo(length);
        }
        at += length > 0 ? length : unit.bytes();
      }
      assertThat(found.count()).isEqualTo(count);
      assertThat(found.reason() == Outcome.LENGTH).isEqualTo(found.end() == end);
    }
  }

  @ParameterizedTest
  @CsvSource({"-1, 2", "2, 1", "0, 6", "6, 6", "-2147483648, 2147483647", "2147483647, -1"})
  void everyCall_rangeOutsideTheBytes_isRefused(int offset, int end) {
    byte[] memory = new byte[5];
    String rule =
        "bytes for sample: offset and end must ascend in [0, 5], found " + offset + " and " + end;
    assertThat(
            assertThrows(
                IndexOutOfBoundsException.class, () -> MODEL.lengthAt(0, memory, offset, end)))
        .hasMessageThat()
        .isEqualTo(rule);
    assertThat(
            assertThrows(
                IndexOutOfBoundsException.class, () -> MODEL.boundaries(0, memory, offset, end)))
        .hasMessageThat()
        .isEqualTo(rule);
    assertThat(
            assertThrows(
                IndexOutOfBoundsException.class,
                () -> MODEL.boundariesAmongData(0, memory, offset, end)))
        .hasMessageThat()
        .isEqualTo(rule);
  }

  @ParameterizedTest
  @CsvSource({"-1", "1"})
  void index_outsideTheInstructions_isRefused(int index) {
    Boundaries found = MODEL.boundaries(0, new byte[1], 0, 1);
    String rule = "boundaries: an instruction must be in [0, 1), found " + index;
    assertThat(assertThrows(IndexOutOfBoundsException.class, () -> found.start(index)))
        .hasMessageThat()
        .isEqualTo(rule);
    assertThat(assertThrows(IndexOutOfBoundsException.class, () -> found.length(index)))
        .hasMessageThat()
        .isEqualTo(rule);
  }
}

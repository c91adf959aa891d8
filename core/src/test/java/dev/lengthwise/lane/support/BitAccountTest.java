package dev.lengthwise.lane.support;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import org.junit.jupiter.api.Test;

class BitAccountTest {

  /** Two bytes where bits 6 and 7 are both 1, but for one opcode; bits 0 to 5 hold that one. */
  @Test
  void of_lane_namesTheRowsInTheWay_andTheBitsThatAreAlike() {
    LengthTable table =
        LengthTable.named("weir")
            .map("base", map -> map.row(0x00).bytes(3).rows(0xc0, 0xff).bytes(2).others().bytes(1))
            .build();
    Predecoder lane = Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE)).build();
    List<String> lines = BitAccount.of(lane);
    assertThat(lines.subList(0, 3))
        .containsExactly(
            "", "map base: 3 kinds of row", "  input 0 is removable but for 0x0 and 0x1")
        .inOrder();
    assertThat(lines).contains("  smallest sets of inputs: 0xff");
    assertThat(lines).contains("  may be permuted freely: 0x3f, 0xc0");
    // The explanation of a design says the first part of it.
    List<String> explained =
        Realizer.on(DeviceProfile.sixInput()).realize(lane, Style.ROM).explain();
    assertThat(explained).containsAtLeastElementsIn(lines.subList(0, 11));
    assertThat(explained).doesNotContain("  may be permuted freely: 0x3f, 0xc0");
  }

  @Test
  void of_tables_saysNoneWhereNoBitsAreAlike() {
    // Two inputs of which the lower alone decides, but where both are 1.
    assertThat(BitAccount.of(TruthTables.of(List.of(TruthTable.parse("010-")))))
        .containsExactly(
            "  input 0 is removable but for 0x0 and 0x1",
            "  input 1 is removable",
            "  smallest sets of inputs: 0x1",
            "  alike: 0~!1",
            "  may be permuted freely: none")
        .inOrder();
  }
}

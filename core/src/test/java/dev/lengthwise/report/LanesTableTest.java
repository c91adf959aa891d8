package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class LanesTableTest {

  private static final Realizer REALIZER = Realizer.on(DeviceProfile.sixInputDualOutput());

  private static Predecoder lane(String name) {
    return Predecoder.builder(
            InstructionSet.of(
                LengthTable.named("lock")
                    .map("base", map -> map.rows(0x00, 0x7f).bytes(1).others().bytes(2))
                    .build(),
                PrefixRules.NONE))
        .name(name)
        .build();
  }

  @Test
  void file_rowOfLanes_statesEveryColumn() {
    LaneArray array = LaneArray.builder(lane("gate"), 4).cut(PipelineCut.AFTER_LANES).build();
    Design design = REALIZER.realize(array, Style.ROM);
    BlockCost total = design.total();
    int marks = design.cost().get(2).luts();
    // Two bits of length for each of the four bytes at least.
    assertThat(total.registers()).isAtLeast(8);
    LanesTable.Row row = new LanesTable.Row(design, OptionalInt.of(1), OptionalInt.of(6));
    assertThat(new LanesTable(List.of(row)).file().text())
        .isEqualTo(
            "design,style,lut_inputs,window_bytes,marking,cuts,latency,lane_luts_alone,"
                + "lane_luts_in_row,marks_luts,luts,levels,registers,tool_lane_luts_alone,"
                + "tool_lane_luts_in_row\n"
                + "lock_lanes,rom,6,4,full_ripple,after_lanes,1,1,1.0,"
                + marks
                + ","
                + total.luts()
                + ","
                + total.levels()
                + ","
                + total.registers()
                + ",1,1.5\n");
  }

  @Test
  void row_singleLane_isRejected() {
    Design design = REALIZER.realize(lane("gate"), Style.ROM);
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new LanesTable.Row(design, OptionalInt.empty(), OptionalInt.empty())))
        .hasMessageThat()
        .isEqualTo("lanes table: a row of lanes is expected, found design gate in style rom");
  }

  @Test
  void realize_anotherLane_isRejected() {
    LaneArray array = LaneArray.builder(lane("gate"), 4).build();
    Design other = REALIZER.realize(lane("sluice"), Style.ROM);
    assertThat(assertThrows(IllegalArgumentException.class, () -> REALIZER.realize(array, other)))
        .hasMessageThat()
        .isEqualTo("row lock_lanes: its lane gate is expected, found lane sluice");
  }
}

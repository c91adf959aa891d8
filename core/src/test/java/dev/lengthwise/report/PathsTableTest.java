package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import org.junit.jupiter.api.Test;

class PathsTableTest {

  private static final Realizer REALIZER = Realizer.on(DeviceProfile.sixInputDualOutput());

  private static LaneArray row() {
    Predecoder lane =
        Predecoder.builder(
                InstructionSet.of(
                    LengthTable.named("lock")
                        .map("base", map -> map.rows(0x00, 0x7f).bytes(1).others().bytes(2))
                        .build(),
                    PrefixRules.NONE))
            .name("gate")
            .build();
    return LaneArray.builder(lane, 4).cut(PipelineCut.AFTER_LANES).build();
  }

  /** By hand: two ways, so the select has three inputs; a length is a wire; see FetchPathsTest. */
  @Test
  void file_unit_statesEveryStep() {
    InstructionCache cache =
        InstructionCache.named("cache", new CacheGeometry(64, 2, 8, 8, 4))
            .tags(TagPlace.DISTRIBUTED_RAM)
            .build();
    Design design = REALIZER.realize(FetchUnit.of("lock_fetch", cache, row()), Style.ROM);
    String unit = "lock_fetch,six_input_dual_output,distributed_ram,inline,2,3,";
    assertThat(new PathsTable(List.of(design)).file().text())
        .startsWith(
            "design,device,tags,predecode,ways,tag_bits,path,step,levels,level\n"
                + unit
                + "compare ahead,address register,0,0\n"
                + unit
                + "compare ahead,tag ram,1,1\n");
    assertThat(new PathsTable(List.of(design)).file().text())
        .contains(
            unit
                + "lookup,way register,0,0\n"
                + unit
                + "lookup,way select,1,1\n"
                + unit
                + "lookup,lanes,0,1\n"
                + unit
                + "lookup,register,0,1\n");
  }

  @Test
  void table_rowOfLanes_isRejected() {
    Design design = REALIZER.realize(row(), Style.ROM);
    assertThat(assertThrows(IllegalArgumentException.class, () -> new PathsTable(List.of(design))))
        .hasMessageThat()
        .isEqualTo("paths table: a fetch unit is expected, found lock_lanes");
  }
}

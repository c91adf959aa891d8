package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.realize.cost.FetchPath;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The account of a fetch unit's paths, from its mapped gates. */
@Slow
class FetchPathsTest {

  /** Common practice, no source: 16 KiB, 4 ways, 32-byte lines, 32-bit address. */
  private static final CacheGeometry GEOMETRY = new CacheGeometry(16384, 4, 32, 32, 8);

  private static Design design(TagPlace tags, int place, PipelineCut... cuts) {
    LaneArray.Builder row =
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 8)
            .end(WindowEnd.NOT_HANDLED);
    for (PipelineCut cut : cuts) {
      row.cut(cut);
    }
    LaneArray lanes = row.build();
    PredecodePlace predecode =
        switch (place) {
          case 0 -> PredecodePlace.inline();
          case 1 -> PredecodePlace.perWay();
          default -> PredecodePlace.onFill(lanes.answerBits());
        };
    InstructionCache cache =
        InstructionCache.named("cache", GEOMETRY).tags(tags).predecode(predecode).build();
    return Realizer.on(DeviceProfile.sixInputDualOutput())
        .realize(FetchUnit.of("unit", cache, lanes), Style.ROM);
  }

  private static FetchPath path(Design design, String name) {
    List<FetchPath> paths = design.paths();
    return paths.stream()
        .filter(path -> path.name().equals(name))
        .findFirst()
        .orElseThrow(() -> new AssertionError(paths.toString()));
  }

  /** Common practice, no source: the compare of 20 bits takes three levels, the select a fourth. */
  @Test
  void lookup_blockRamTags_comparesInThreeLevelsAndSelectsInAFourth() {
    FetchPath lookup = path(design(TagPlace.BLOCK_RAM, 0), "lookup");
    assertThat(lookup.level("tag ram")).isEqualTo(0);
    assertThat(lookup.level("tag compare")).isAtMost(3);
    assertThat(lookup.level("hit combine")).isEqualTo(3);
    assertThat(lookup.level("way select")).isEqualTo(4);
    assertThat(lookup.level("lanes")).isGreaterThan(4);
    assertThat(lookup.levels()).isGreaterThan(lookup.level("lanes"));
  }

  @Test
  void lookup_comparedAhead_leavesOneLevelBeforeTheLanes() {
    Design ahead = design(TagPlace.DISTRIBUTED_RAM, 0);
    FetchPath lookup = path(ahead, "lookup");
    assertThat(lookup.level("way select")).isEqualTo(1);
    FetchPath late = path(design(TagPlace.BLOCK_RAM, 0), "lookup");
    assertThat(late.level("lanes") - lookup.level("lanes")).isEqualTo(3);
    assertThat(late.levels() - lookup.levels()).isEqualTo(3);
    FetchPath compare = path(ahead, "compare ahead");
    assertThat(compare.level("tag ram")).isEqualTo(2); // 128 rows: two banks of 64
    assertWithMessage("%s", compare).that(compare.levels()).isAtLeast(5);
  }

  @Test
  void lookup_lanesBeforeTheSelect_areBesideTheCompare() {
    Design design = design(TagPlace.BLOCK_RAM, 1);
    FetchPath beside = path(design, "lanes beside the compare");
    FetchPath inline = path(design(TagPlace.BLOCK_RAM, 0), "lookup");
    assertThat(beside.level("lanes")).isEqualTo(inline.level("lanes") - inline.level("way select"));
    assertThat(beside.level("way select")).isAtMost(Math.max(beside.level("lanes"), 3) + 1);
    assertThat(path(design, "lookup").levels()).isLessThan(inline.levels());
  }

  @Test
  void lookup_lanesOnFill_selectsAndMarks() {
    Design design = design(TagPlace.DISTRIBUTED_RAM, 2);
    assertThat(path(design, "lookup").level("way select")).isEqualTo(1);
    assertThat(path(design, "fill").level("lanes")).isGreaterThan(1);
  }

  @Test
  void paths_cutAfterTheLanes_endsThere() {
    Design design = design(TagPlace.DISTRIBUTED_RAM, 0, PipelineCut.AFTER_LANES);
    FetchPath lookup = path(design, "lookup");
    assertThat(lookup.steps().stream().map(PathStep::name))
        .containsExactly("way register", "way select", "lanes", "register")
        .inOrder();
    assertThat(path(design, "marks").levels()).isGreaterThan(1);
  }

  @Test
  void realize_deviceWithoutLutRam_refusesTagsAheadBeforeAnythingIsWritten() {
    Design six = design(TagPlace.DISTRIBUTED_RAM, 0);
    Realizer four = Realizer.on(DeviceProfile.fourInput());
    String message =
        "ram fit of cache on four_input: tags a cycle ahead need a shape of distributed ram, found"
            + " none";
    FetchUnit unit = six.unit().orElseThrow();
    assertThat(
            assertThrows(DescriptionException.class, () -> four.realize(unit, Style.ROM))
                .getMessage())
        .isEqualTo(message);
    Design row = four.realize(unit.row(), Style.ROM);
    assertThat(assertThrows(DescriptionException.class, () -> four.realize(unit, row)).getMessage())
        .isEqualTo(message);
    FetchUnit inBlockRam = design(TagPlace.BLOCK_RAM, 0).unit().orElseThrow();
    Design made = four.realize(inBlockRam, four.realize(inBlockRam.row(), Style.ROM));
    assertThat(made.cost()).isNotEmpty();
    assertThat(made.paths()).isNotEmpty();
  }

  @Test
  void realize_partOfAnotherDesign_saysWhatItIs() {
    Design unit = design(TagPlace.BLOCK_RAM, 0);
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    LaneArray row = unit.array().or(() -> unit.unit().map(FetchUnit::row)).orElseThrow();
    Predecoder other =
        Predecoder.builder(row.lane().instructionSet())
            .name(row.lane().name())
            .lookahead(0)
            .build();
    Design lane = realizer.realize(other, Style.ROM);
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> realizer.realize(row, lane))
                .getMessage())
        .isEqualTo(
            "row "
                + row.name()
                + ": its lane "
                + other.name()
                + " is expected, found another lane "
                + other.name());
    assertThat(
            assertThrows(
                    IllegalArgumentException.class,
                    () -> realizer.realize(unit.unit().orElseThrow(), lane))
                .getMessage())
        .isEqualTo(
            "fetch unit unit: its row " + row.name() + " is expected, found lane " + other.name());
  }
}

package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class FetchUnitTest {

  private static final CacheGeometry GEOMETRY = new CacheGeometry(256, 2, 16, 16, 8);

  private static Predecoder.Builder lane() {
    return Predecoder.of(
        InstructionSet.of(
            LengthTable.named("lock")
                .mode("wide")
                .map(
                    "base",
                    map ->
                        map.rows(0x00, 0x7f)
                            .bytes(1)
                            .row(0x80)
                            .byNextByte(next -> next.when("0xxx_xxxx").bytes(2).others().bytes(3))
                            .row(0x81)
                            .bytes(2)
                            .grows("wide", 1)
                            .others()
                            .undefined())
                .build(),
            PrefixRules.NONE));
  }

  private static LaneArray row(int window) {
    return LaneArray.of(lane().build(), window).build();
  }

  private static InstructionCache cache(CacheGeometry geometry, PredecodePlace place) {
    return InstructionCache.named("cache", geometry).predecode(place).build();
  }

  private static void assertFault(String message, Executable mistake) {
    assertThat(assertThrows(RuntimeException.class, mistake)).hasMessageThat().isEqualTo(message);
  }

  @Test
  void of_parts_areChecked() {
    InstructionCache inline = cache(GEOMETRY, PredecodePlace.inline());
    FetchUnit unit = FetchUnit.of("unit", inline, row(8));
    assertThat(unit.windowNumberBits()).isEqualTo(13);
    assertThat(unit.waitsForNext()).isTrue();
    assertThat(unit.beatBytes()).isEqualTo(8);
    assertFault(
        "fetch unit unit: a beat must be a power of two in [1, 8] bytes, found 3",
        () -> unit.withBeatBytes(3));
    assertFault(
        "fetch unit unit: a beat must be a power of two in [1, 8] bytes, found 16",
        () -> unit.withBeatBytes(16));
    assertFault(
        "fetch unit lock_lanes: unit, row and lane must not share a name, found lock_lanes",
        () -> FetchUnit.of("lock_lanes", inline, row(8)));
    assertFault(
        "fetch unit unit: the window of the lanes must be that of the cache, 8 bytes, found 16",
        () -> FetchUnit.of("unit", inline, row(16)));
    CacheGeometry many = new CacheGeometry(2048 * 16, 1, 16, 16, 8);
    assertFault(
        "fetch unit unit: the sets must be at most 1024, found 2048",
        () -> FetchUnit.of("unit", cache(many, PredecodePlace.inline()), row(8)));
    assertFault(
        "fetch unit unit: lanes that look behind the window must be inline, found per_way",
        () -> FetchUnit.of("unit", cache(GEOMETRY, PredecodePlace.perWay()), row(8)));
    LaneArray anything =
        LaneArray.of(lane().undefinedRows(UndefinedRows.ANYTHING).build(), 8)
            .marking(Marking.first(2))
            .build();
    assertFault(
        "fetch unit unit: a window that may be offered again needs undefined rows that are not"
            + " handled, found anything",
        () -> FetchUnit.of("unit", inline, anything));
  }

  @Test
  void of_lanesOnFill_reportsEveryFault() {
    LaneArray row = row(8);
    assertThat(row.answerBits()).isEqualTo(row.lane().lengthBits());
    assertFault(
        "fetch unit unit: lanes that look behind the window must be inline, found on_fill_9\n"
            + "fetch unit unit: what the lanes say on fill must be stored, 2 bits for a byte,"
            + " found 9\n"
            + "fetch unit unit: lanes on fill must not depend on modes that no prefix of one unit"
            + " changes, found [wide]",
        () -> FetchUnit.of("unit", cache(GEOMETRY, PredecodePlace.onFill(9)), row));
  }
}

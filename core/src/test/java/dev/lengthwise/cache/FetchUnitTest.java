package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class FetchUnitTest {

  private static final CacheGeometry GEOMETRY = new CacheGeometry(256, 2, 16, 16, 8);

  private static Predecoder.Builder lane() {
    return Predecoder.builder(
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
    return LaneArray.builder(lane().build(), window).build();
  }

  private static InstructionCache cache(CacheGeometry geometry, PredecodePlace place) {
    return InstructionCache.named("cache", geometry).predecode(place).build();
  }

  @Test
  void of_marksByEntry_isRejected() {
    LaneArray row = row(8).toBuilder().marking(Marking.byEntry(5, 6)).build();
    assertFault(
        "fetch unit unit: marks by entry are for rows alone, as a fetch unit follows at most two"
            + " cycles of marks, found "
            + row.latency(),
        () -> FetchUnit.of("unit", cache(GEOMETRY, PredecodePlace.inline()), row));
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
        LaneArray.builder(lane().undefinedRows(UndefinedRows.ANYTHING).build(), 8)
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

  private static FetchClock.Inputs inputs(long redirect, int modes, long flush) {
    return new FetchClock.Inputs(false, true, redirect, modes, true, false, flush, true, true);
  }

  @Test
  void clock_inputsThatThePortsCannotHave_areRefusedBeforeAnythingChanges() {
    FetchUnit unit = FetchUnit.of("unit", cache(GEOMETRY, PredecodePlace.inline()), row(8));
    FetchClock clock = FetchClock.of(unit);
    byte[] beat = new byte[8];
    assertFault(
        "table lock: a mode word may have the bits 0x1 wide, found 0x2",
        () -> clock.cycle(inputs(0, 2, 0), beat));
    assertFault(
        "fetch unit unit: the address of a redirect must have at most 16 bits, found 0x10000",
        () -> clock.cycle(inputs(0x10000, 1, 0), beat));
    assertFault(
        "fetch unit unit: the address of a flush must have at most 16 bits, found"
            + " 0xffffffffffffffff",
        () -> clock.cycle(inputs(0xffff, 1, -1), beat));
    assertFault(
        "fetch unit unit: a beat must have 8 bytes, found 7",
        () -> clock.cycle(inputs(0xffff, 1, 0), new byte[7]));
    assertThat(clock.isRequesting()).isFalse();
    assertThat(clock.cycle(inputs(0xffff, 1, 0), beat).isValid()).isFalse();
  }

  @Test
  void ramUse_shapeThatDoesNotFit_isRefused() {
    RamArray array = new RamArray(RamArray.Part.TAGS, 1, 16, 4);
    assertFault(
        "ram use: RAM must have a shape and registers none, found none for block_ram",
        () -> new RamUse(array, RamUse.Medium.BLOCK_RAM, Optional.empty()));
    assertFault(
        "ram use: RAM must have a shape and registers none, found 512 x 8 for registers",
        () ->
            new RamUse(
                array,
                RamUse.Medium.REGISTERS,
                Optional.of(new DeviceProfile.RamShape(512, 8, 0))));
  }

  @Test
  void cacheModel_setThatIsNone_isRefused() {
    CacheModel model = CacheModel.of(GEOMETRY, Replacement.LRU);
    assertFault("cache model: a set must be in [0, 8), found 8", () -> model.hits(8));
    assertFault("cache model: a set must be in [0, 8), found -1", () -> model.misses(-1));
    assertFault("cache model: a set must be in [0, 8), found 9", () -> model.evictions(9));
  }

  @Test
  void delayRange_negativeCount_isRefused() {
    assertFault(
        "delay range: a count must be at least 0, found -1",
        () -> new DeviceProfile.DelayRange(0, 0).times(-1));
  }
}

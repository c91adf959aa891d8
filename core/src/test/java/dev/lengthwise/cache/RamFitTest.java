package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cache.RamArray.Part;
import dev.lengthwise.cache.RamOption.Layout;
import dev.lengthwise.cache.RamUse.Medium;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.table.DescriptionException;
import java.util.List;
import org.junit.jupiter.api.Test;

class RamFitTest {

  private static final DeviceProfile DEVICE = DeviceProfile.sixInput();

  /** The case of common practice, no source: 16 KiB, 4 ways, 32-byte lines, 32-bit addresses. */
  private static InstructionCache.Builder common() {
    return InstructionCache.named("icache", CacheGeometry.builder(16384).ways(4).build());
  }

  private static RamFit.Entry entry(Part part, InstructionCache cache, DeviceProfile device) {
    return RamFit.of(cache, device).entry(part);
  }

  private static RamOption other(RamFit.Entry entry, Layout layout, Medium medium) {
    return entry.others().stream()
        .filter(option -> option.layout() == layout && option.use().medium() == medium)
        .findFirst()
        .orElseThrow();
  }

  /** Common practice, no source: a block RAM of 512 rows is three quarters empty as a tag store. */
  @Test
  void tags_in512Rows_leaveThreeQuartersEmpty() {
    RamFit.Entry tags = entry(Part.TAGS, common().build(), DEVICE);
    RamUse use = tags.chosen().use();
    assertThat(use.toString()).isEqualTo("4 block RAMs of 512 x 32+4");
    assertThat(use.rows()).isEqualTo(512);
    assertThat(use.rowsWasted()).isEqualTo(384);
    assertThat(use.spareBits()).isEqualTo(36 - 20);
    assertThat(use.bitsTaken()).isEqualTo(4 * 512 * 36);
    assertThat(use.bitsWasted()).isEqualTo(4 * 512 * 36 - 4 * 128 * 20);
    assertThat(other(tags, Layout.SIDE_BY_SIDE, Medium.BLOCK_RAM).primitives()).isEqualTo(3);
    RamOption ahead = other(tags, Layout.EACH_WAY, Medium.DISTRIBUTED_RAM);
    assertThat(ahead.primitives()).isEqualTo(160);
    assertThat(ahead.use().banks()).isEqualTo(2);
    assertThat(ahead.use().bitsWasted()).isEqualTo(0);
  }

  @Test
  void tags_aheadOfTheData_areInLuts() {
    RamFit fit = RamFit.of(common().tags(TagPlace.DISTRIBUTED_RAM).build(), DEVICE);
    RamFit.Entry tags = fit.entry(Part.TAGS);
    assertThat(tags.chosen().use().toString()).isEqualTo("160 LUT RAMs of 64 x 1");
    assertThat(tags.smaller()).isEmpty();
    assertThat(fit.primitives(Medium.BLOCK_RAM)).isEqualTo(8);
    // 4 x 2 LUTs more hold what 512 registers do, and 12 the replacement state.
    assertThat(fit.primitives(Medium.DISTRIBUTED_RAM)).isEqualTo(172);
    assertThat(fit.primitives(Medium.REGISTERS)).isEqualTo(512);
    assertThat(other(fit.entry(Part.VALID), Layout.EACH_WAY, Medium.DISTRIBUTED_RAM).primitives())
        .isEqualTo(8);
    // No shape of 64 rows is wider than its one bit, so a valid bit beside a tag is two LUTs.
    assertThat(
            other(fit.entry(Part.VALID), Layout.BESIDE_TAGS, Medium.DISTRIBUTED_RAM).primitives())
        .isEqualTo(8);
  }

  @Test
  void marks_ofOneBitAByte_fillTheSpareBits() {
    RamFit.Entry marks =
        entry(Part.MARKS, common().predecode(PredecodePlace.onFill(1)).build(), DEVICE);
    assertThat(marks.chosen().layout()).isEqualTo(Layout.BESIDE_DATA);
    assertThat(marks.chosen().primitives()).isEqualTo(0);
    assertThat(marks.chosen().use().bitsWasted()).isEqualTo(0);
    assertThat(other(marks, Layout.EACH_WAY, Medium.BLOCK_RAM).primitives()).isEqualTo(4);
  }

  @Test
  void marks_ofThreeBitsAByte_takeTheSpareBitsFirst() {
    RamFit.Entry marks =
        entry(Part.MARKS, common().predecode(PredecodePlace.onFill(3)).build(), DEVICE);
    // 64 + 24 bits need three words of 36 where 64 need two.
    assertThat(marks.chosen().layout()).isEqualTo(Layout.BESIDE_DATA);
    assertThat(marks.chosen().primitives()).isEqualTo(4);
    assertThat(marks.chosen().bitsTaken()).isEqualTo(4 * 512 * 36);
    assertThat(marks.chosen().use().spareBits()).isEqualTo(108 - 88);
  }

  @Test
  void data_ofFewRows_wouldBeSmallerStacked() {
    InstructionCache small =
        InstructionCache.named("icache", CacheGeometry.builder(4096).ways(4).build()).build();
    RamFit.Entry data = entry(Part.DATA, small, DEVICE);
    assertThat(data.chosen().use().toString()).isEqualTo("8 block RAMs of 512 x 32+4");
    assertThat(data.chosen().use().rowsWasted()).isEqualTo(384);
    RamOption stacked = other(data, Layout.STACKED, Medium.BLOCK_RAM);
    assertThat(stacked.use().toString()).isEqualTo("2 block RAMs of 512 x 32+4");
    assertThat(data.smaller()).contains(stacked);
  }

  @Test
  void rows_moreThanAShapeHas_areBanks() {
    InstructionCache large =
        InstructionCache.named("icache", CacheGeometry.builder(65536).build()).build();
    RamUse use = entry(Part.DATA, large, DEVICE).chosen().use();
    // 8192 rows of 64 bits take 32 of any shape; the deepest has the fewest banks.
    assertThat(use.toString()).isEqualTo("32 block RAMs of 2048 x 8+1");
    assertThat(use.banks()).isEqualTo(4);
    assertThat(use.across()).isEqualTo(8);
    assertThat(use.rowsWasted()).isEqualTo(0);
    assertThat(use.spareBits()).isEqualTo(8);
  }

  @Test
  void replacement_withoutLutRam_isInRegisters() {
    RamFit.Entry entry = entry(Part.REPLACEMENT, common().build(), DeviceProfile.fourInput());
    assertThat(entry.chosen().use().toString()).isEqualTo("768 registers");
    assertThat(other(entry, Layout.WHOLE, Medium.BLOCK_RAM).primitives()).isEqualTo(1);
    assertThat(entry.smaller()).isEmpty();
  }

  @Test
  void entries_storingNothing_areLeftOut() {
    RamFit fit = RamFit.of(common().replacement(Replacement.RANDOM).build(), DEVICE);
    assertThat(fit.entries()).hasSize(3);
    assertThat(assertThrows(IllegalArgumentException.class, () -> fit.entry(Part.MARKS)))
        .hasMessageThat()
        .isEqualTo("ram fit of icache: a part that stores bits is expected, found marks");
    InstructionCache direct =
        InstructionCache.named("icache", CacheGeometry.builder(1024).build()).build();
    assertThat(RamFit.of(direct, DEVICE).entries()).hasSize(3);
    assertThat(entry(Part.TAGS, direct, DEVICE).others()).hasSize(1);
  }

  @Test
  void of_deviceWithoutRam_isRejected() {
    DeviceProfile bare = DeviceProfile.named("bare", 4).build();
    InstructionCache ahead = common().tags(TagPlace.DISTRIBUTED_RAM).build();
    assertThat(assertThrows(DescriptionException.class, () -> RamFit.of(ahead, bare)).faults())
        .containsExactly(
            "ram fit of icache on bare: the data need a shape of block ram, found none",
            "ram fit of icache on bare: tags a cycle ahead need a shape of distributed ram, found"
                + " none")
        .inOrder();
  }

  @Test
  void ramArray_ofNothing_isRejected() {
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> new RamArray(Part.TAGS, 1, 0, 20)))
        .hasMessageThat()
        .isEqualTo("ram array of tags: copies, rows and width must be at least 1, found 1, 0, 20");
  }

  /** Whatever the sizes: all bits have room, and no other shape of the device takes fewer. */
  @Test
  void uses_ofManyCaches_haveRoomAndAreTheLeast() {
    for (DeviceProfile device :
        List.of(
            DeviceProfile.sixInputDualOutput(),
            DeviceProfile.sixInput(),
            DeviceProfile.fiveInput(),
            DeviceProfile.fourInput())) {
      for (int log = 9; log <= 17; log++) {
        for (int ways = 1; ways <= 16; ways *= 2) {
          for (int window = 4; window <= 32; window *= 2) {
            CacheGeometry geometry = new CacheGeometry(1 << log, ways, 32, 32, window);
            InstructionCache cache =
                InstructionCache.named("icache", geometry)
                    .predecode(PredecodePlace.onFill(2))
                    .build();
            for (RamFit.Entry entry : RamFit.of(cache, device).entries()) {
              checkRoom(entry.chosen(), device);
              entry.others().forEach(option -> checkRoom(option, device));
              assertThat(entry.chosen().own().bits()).isEqualTo(bits(entry, cache));
            }
          }
        }
      }
    }
  }

  private static long bits(RamFit.Entry entry, InstructionCache cache) {
    CacheGeometry geometry = cache.geometry();
    return switch (entry.chosen().own().part()) {
      case TAGS -> geometry.tagBits();
      case DATA -> 8L * geometry.capacityBytes();
      case VALID -> geometry.validBits();
      case REPLACEMENT -> cache.replacementBits();
      case MARKS -> 2L * geometry.capacityBytes();
    };
  }

  private static void checkRoom(RamOption option, DeviceProfile device) {
    RamUse use = option.use();
    RamArray array = use.array();
    long room = (long) array.copies() * use.rows() * (array.width() + use.spareBits());
    assertWithMessage("%s", option).that(use.bitsTaken()).isEqualTo(room);
    assertWithMessage("%s", option).that(use.rowsWasted()).isAtLeast(0);
    assertWithMessage("%s", option).that(use.spareBits()).isAtLeast(0);
    assertWithMessage("%s", option).that(option.primitives()).isAtLeast(0);
    if (use.medium() == Medium.BLOCK_RAM) {
      device
          .blockRams()
          .forEach(
              shape -> {
                double across = array.width() / (double) (shape.width() + shape.spareBits());
                double banks = array.rows() / (double) shape.depth();
                assertThat(array.copies() * Math.ceil(across) * Math.ceil(banks))
                    .isAtLeast((double) use.primitives());
              });
    }
  }

  @Test
  void explain_commonCase_saysWhatIsEmptyAndWhatIsSmaller() {
    assertThat(RamFit.of(common().predecode(PredecodePlace.onFill(1)).build(), DEVICE).explain())
        .containsExactly(
            "tags, 4 of 128 x 20, each way apart: 4 block RAMs of 512 x 32+4; 384 of 512 rows empty"
                + " (75.0%), 16 spare bits in a word, 63488 of 73728 bits unused (86.1%)",
            "tags would be smaller, each way apart: 160 LUT RAMs of 64 x 1; tags are compared a"
                + " cycle ahead",
            "tags would be smaller, the ways side by side: 3 block RAMs of 512 x 32+4; a fill"
                + " writes one way's part of the word, by write enables or read back",
            "data, 4 of 512 x 64, each way apart: 8 block RAMs of 512 x 32+4; 0 of 512 rows empty"
                + " (0.0%), 8 spare bits in a word, 16384 of 147456 bits unused (11.1%)",
            "data would be smaller, each way apart: 2048 LUT RAMs of 64 x 1",
            "valid, 4 of 128 x 1, each way apart: 512 registers",
            "valid would be smaller, beside the tags: no further primitive; a flush of all lines"
                + " takes 128 cycles",
            "replacement, 1 of 128 x 6, one array: 12 LUT RAMs of 64 x 1; 0 of 128 rows empty"
                + " (0.0%), 0 spare bits in a word, 0 of 768 bits unused (0.0%)",
            "marks, 4 of 512 x 8, beside the data: no further primitive; 0 of 512 rows empty"
                + " (0.0%), 0 spare bits in a word, 0 of 147456 bits unused (0.0%)")
        .inOrder();
  }
}

package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.table.DescriptionException;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class CacheGeometryTest {

  /** The widths that a source states for a cache. */
  private record Split(
      String source,
      int capacity,
      int ways,
      int line,
      int address,
      int sets,
      int tag,
      int index,
      int offset) {

    CacheGeometry geometry() {
      return CacheGeometryTest.geometry(capacity, ways, line, address);
    }

    @Override
    public String toString() {
      return source;
    }
  }

  private static CacheGeometry geometry(int capacity, int ways, int line, int address) {
    return CacheGeometry.builder(capacity)
        .ways(ways)
        .lineBytes(line)
        .addressBits(address)
        .windowBytes(4)
        .build();
  }

  static Stream<Split> splits() {
    return Stream.of(
        new Split(
            "Hennessy, Patterson, Computer Architecture, 5th ed., app. B, first-level data cache"
                + " (from memory)",
            65536,
            2,
            64,
            40,
            512,
            25,
            9,
            6),
        new Split(
            "Bryant, O'Hallaron, Computer Systems, practice problem on 1024-byte caches, B=4, E=1"
                + " (from memory)",
            1024,
            1,
            4,
            32,
            256,
            22,
            8,
            2),
        new Split("the same, B=8, E=4 (from memory)", 1024, 4, 8, 32, 32, 24, 5, 3),
        new Split(
            "exercise in the manner of Stallings, Computer Organization and Architecture, cache"
                + " mapping (copy on the web)",
            8192,
            2,
            16,
            26,
            256,
            14,
            8,
            4),
        new Split("NIU CS 463, answer key (copy on the web)", 8192, 1, 32, 24, 256, 11, 8, 5),
        new Split("common practice, no source", 16384, 4, 32, 32, 128, 20, 7, 5));
  }

  @ParameterizedTest
  @MethodSource("splits")
  void parts_ofWorkedExamples_areAsPrinted(Split split) {
    CacheGeometry geometry = split.geometry();
    assertThat(geometry.sets()).isEqualTo(split.sets());
    assertThat(geometry.tag().width()).isEqualTo(split.tag());
    assertThat(geometry.index().width()).isEqualTo(split.index());
    assertThat(geometry.offset().width()).isEqualTo(split.offset());
  }

  /** Common practice, no source. */
  @Test
  void ranges_of16KibWith4Ways_areNamed() {
    CacheGeometry geometry =
        CacheGeometry.builder(16384).ways(4).lineBytes(32).addressBits(32).build();
    assertThat(geometry.toString())
        .isEqualTo(
            "16384 bytes, 4 ways, 32-byte lines, 128 sets; address of 32 bits: tag 31..12, index"
                + " 11..5, offset 4..0");
    assertThat(geometry.validBits()).isEqualTo(512);
    assertThat(geometry.lineWindows()).isEqualTo(4);
    assertThat(geometry.lines()).isEqualTo(512);
  }

  /** NIU CS 463, answer key (copy on the web), its values corrected by hand. */
  @Test
  void values_ofAnAddress_areAsPrinted() {
    CacheGeometry geometry = geometry(8192, 1, 32, 24);
    assertThat(geometry.tag().of(0xf6766f)).isEqualTo(0x7b3);
    assertThat(geometry.index().of(0xf6766f)).isEqualTo(0xb3);
    assertThat(geometry.offset().of(0xf6766f)).isEqualTo(0x0f);
  }

  /** Patterson, Hennessy, Computer Organization and Design, 5th ed., sec. 5.3 (from memory). */
  @Test
  void index_ofByteAddress1200_isBlock11() {
    CacheGeometry geometry = geometry(1024, 1, 16, 32);
    assertThat(1200 >>> geometry.offset().width()).isEqualTo(75);
    assertThat(geometry.index().of(1200)).isEqualTo(11);
  }

  /** Patterson, Hennessy, as above: 16 KiB of data take 147 Kibit, 18.4 KiB (from memory). */
  @Test
  void totalBits_of16KibDirectMapped_are147Kibit() {
    CacheGeometry geometry = geometry(16384, 1, 16, 32);
    assertThat(geometry.totalBits()).isEqualTo((128 + 18 + 1) << 10);
    assertThat(geometry.totalBits()).isEqualTo(147 * 1024);
    assertThat(geometry.totalBits() / 8.0 / 1024).isWithin(0.05).of(18.4);
  }

  /**
   * Patterson, Hennessy, as above: tag bits of 4096 blocks of 4 words by ways (from memory). Its
   * fully associative cache has more ways than are possible here.
   */
  @Test
  void tagBits_byWays_areAsPrinted() {
    assertThat(geometry(65536, 1, 16, 32).tagBits()).isEqualTo(65536);
    assertThat(geometry(65536, 2, 16, 32).tagBits()).isEqualTo(69632);
    assertThat(geometry(65536, 4, 16, 32).tagBits()).isEqualTo(73728);
  }

  /** Bits of a set: ways - 1 for a tree, log2 of the ways for FIFO; textbooks, from memory. */
  @Test
  void stateBits_ofReplacements_areAsPublished() {
    int[] lru = {0, 1, 6, 28, 120};
    for (int log = 0; log <= 4; log++) {
      int ways = 1 << log;
      assertThat(Replacement.TREE_PLRU.stateBits(ways)).isEqualTo(ways - 1);
      assertThat(Replacement.FIFO.stateBits(ways)).isEqualTo(log);
      assertThat(Replacement.LRU.stateBits(ways)).isEqualTo(lru[log]);
      assertThat(Replacement.RANDOM.stateBits(ways)).isEqualTo(0);
    }
    assertThat(Replacement.FIFO.stateBits(3)).isEqualTo(2);
    assertThat(Replacement.FIFO.stateBits(9)).isEqualTo(4);
  }

  @Test
  void build_nothingSaid_isDirectMapped() {
    assertThat(CacheGeometry.builder(4096).build())
        .isEqualTo(new CacheGeometry(4096, 1, 32, 32, 8));
    assertThat(CacheGeometry.builder(4096).lineBytes(4).build().windowBytes()).isEqualTo(4);
  }

  @Test
  void build_setsOfThreeWays_mayBe() {
    assertThat(geometry(24576, 3, 32, 32).sets()).isEqualTo(256);
  }

  @Test
  void build_oneSet_hasNoIndex() {
    CacheGeometry geometry = geometry(64, 16, 4, 64);
    assertThat(geometry.index().toString()).isEqualTo("none");
    assertThat(geometry.index().of(-1)).isEqualTo(0);
    assertThat(geometry.tag().toString()).isEqualTo("63..2");
    assertThat(geometry.tag().of(-1)).isEqualTo(-1L >>> 2);
  }

  @Test
  void values_outOfRange_areRejected() {
    assertFault(
        "cache: the capacity must be in [4, 16777216] bytes, found 3",
        () -> CacheGeometry.builder(3));
    assertFault(
        "cache: the capacity must be in [4, 16777216] bytes, found 16777217",
        () -> CacheGeometry.builder(16777217));
    CacheGeometry.Builder builder = CacheGeometry.builder(1024);
    String subject = "cache of 1024 bytes: ";
    for (int ways : new int[] {0, 17, 32}) {
      assertFault(subject + "the ways must be in [1, 16], found " + ways, () -> builder.ways(ways));
    }
    for (int line : new int[] {-4, 0, 2, 24, 512}) {
      assertFault(
          subject + "a line must be a power of two in [4, 256] bytes, found " + line,
          () -> builder.lineBytes(line));
    }
    for (int bits : new int[] {7, 65}) {
      assertFault(
          subject + "an address must be in [8, 64] bits, found " + bits,
          () -> builder.addressBits(bits));
    }
    for (int window : new int[] {2, 12, 64}) {
      assertFault(
          subject + "a window must be a power of two in [4, 32] bytes, found " + window,
          () -> builder.windowBytes(window));
    }
    assertFault(
        subject + "the ways must be in [1, 16], found 0",
        () -> new CacheGeometry(1024, 0, 32, 32, 8));
    assertThat(builder.build()).isEqualTo(new CacheGeometry(1024, 1, 32, 32, 8));
  }

  @Test
  void values_givenTwice_areRejected() {
    assertThat(
            assertThrows(
                IllegalStateException.class, () -> CacheGeometry.builder(1024).ways(2).ways(4)))
        .hasMessageThat()
        .isEqualTo("cache of 1024 bytes: ways is given once, found 4 after 2");
  }

  @Test
  void build_badCombinations_areAllNamed() {
    assertFaults(
        CacheGeometry.builder(16384).ways(3).lineBytes(16).windowBytes(32),
        "cache of 16384 bytes: the capacity must be a multiple of 3 ways of 16-byte lines, 48"
            + " bytes, found 16384",
        "cache of 16384 bytes: a window must be no longer than a line of 16 bytes, found 32");
    assertFaults(
        CacheGeometry.builder(24576).ways(2),
        "cache of 24576 bytes: the sets must be a power of two, found 384");
    assertFaults(
        CacheGeometry.builder(32).ways(2),
        "cache of 32 bytes: the capacity must be a multiple of 2 ways of 32-byte lines, 64 bytes,"
            + " found 32");
    assertFaults(
        CacheGeometry.builder(16384).ways(4).addressBits(12).lineBytes(4).windowBytes(8),
        "cache of 16384 bytes: an address must have more bits than index and offset, 12, found 12",
        "cache of 16384 bytes: a window must be no longer than a line of 4 bytes, found 8");
    assertThat(geometry(16384, 4, 4, 13).tag().toString()).isEqualTo("12..12");
  }

  @Test
  void bitField_outside64Bits_isRejected() {
    assertFault(
        "bit field: the bits must be in [0, 64), found 5 from bit 60",
        () -> new CacheGeometry.Field(60, 5));
    assertFault(
        "bit field: the bits must be in [0, 64), found 1 from bit -1",
        () -> new CacheGeometry.Field(-1, 1));
    assertThat(new CacheGeometry.Field(0, 64).of(-7)).isEqualTo(-7);
    assertThat(new CacheGeometry.Field(60, 4).of(0xa000_0000_0000_0000L)).isEqualTo(10);
  }

  private static void assertFault(String message, Executable call) {
    assertThat(assertThrows(IllegalArgumentException.class, call))
        .hasMessageThat()
        .isEqualTo(message);
  }

  private static void assertFaults(CacheGeometry.Builder builder, String... faults) {
    DescriptionException thrown = assertThrows(DescriptionException.class, builder::build);
    assertWithMessage("faults").that(thrown.faults()).containsExactlyElementsIn(faults).inOrder();
  }
}

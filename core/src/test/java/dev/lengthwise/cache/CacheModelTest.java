package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.sun.management.ThreadMXBean;
import dev.lengthwise.testing.Slow;
import java.lang.management.ManagementFactory;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

@Slow
class CacheModelTest {

  private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();

  /** A cache and an order of replacement. */
  private record Case(int sets, int ways, int line, int addressBits, Replacement replacement) {

    CacheGeometry geometry() {
      return CacheGeometry.builder(sets * ways * line)
          .ways(ways)
          .lineBytes(line)
          .addressBits(addressBits)
          .windowBytes(4)
          .build();
    }
  }

  static Stream<Case> cases() {
    return Stream.of(Replacement.values())
        .flatMap(
            replacement ->
                Stream.of(1, 2, 3, 4, 5, 7, 8, 11, 16)
                    .filter(replacement::fits)
                    .flatMap(
                        ways ->
                            Stream.of(
                                new Case(1, ways, 4, 64, replacement),
                                new Case(4, ways, 32, 40, replacement),
                                new Case(64, ways, 256, 24, replacement))));
  }

  @ParameterizedTest
  @MethodSource("cases")
  void access_randomStreams_equalsReference(Case example) {
    CacheGeometry geometry = example.geometry();
    SplittableRandom random = new SplittableRandom(example.geometry().lines());
    CacheModel model = CacheModel.of(geometry, example.replacement());
    ReferenceCache reference = new ReferenceCache(geometry, example.replacement());
    long[] hits = new long[geometry.sets()];
    long[] misses = new long[geometry.sets()];
    long high = 0;
    for (int i = 0; i < 30_000; i++) {
      if (random.nextInt(3_000) == 0) {
        high = random.nextLong() >>> 1 >>> (64 - example.addressBits());
      }
      // Twice the lines that fit, and now and then the same lines far off.
      long near = random.nextLong(2L * geometry.capacityBytes());
      long address = (high & -4L * geometry.capacityBytes()) + near;
      if (address < 0 || (example.addressBits() < 64 && address >>> example.addressBits() != 0)) {
        address = near;
      }
      if (random.nextInt(400) == 0) {
        model.flush(address);
        reference.flush(address);
      } else if (random.nextInt(10_000) == 0) {
        model.flush();
        reference.flush();
      }
      int set = (int) geometry.index().of(address);
      boolean there = model.wayOf(address) >= 0;
      boolean hit = model.access(address);
      assertThat(hit).isEqualTo(there);
      assertWithMessage("access %s to 0x%s", i, Long.toHexString(address))
          .that(hit)
          .isEqualTo(reference.access(address));
      (hit ? hits : misses)[set]++;
    }
    for (int set = 0; set < geometry.sets(); set++) {
      assertThat(model.hits(set)).isEqualTo(hits[set]);
      assertThat(model.misses(set)).isEqualTo(misses[set]);
      assertThat(model.evictions(set)).isEqualTo(reference.evictions(set));
    }
    assertThat(model.hits() + model.misses()).isEqualTo(30_000);
    assertThat(model.hits()).isGreaterThan(3_000);
    assertThat(model.evictions()).isGreaterThan(3_000);
  }

  @Test
  void access_acrossLines_touchesAllOfThem() {
    CacheModel model = CacheModel.of(new CacheGeometry(1024, 2, 16, 64, 4), Replacement.LRU);
    assertThat(model.access(0x10e, 2)).isFalse();
    assertThat(model.misses()).isEqualTo(1);
    assertThat(model.access(0x10f, 2)).isFalse();
    assertThat(model.hits()).isEqualTo(1);
    assertThat(model.access(0x10f, 34)).isFalse();
    assertThat(model.misses()).isEqualTo(4);
    assertThat(model.access(0x110, 33)).isTrue();
    assertThat(model.access(-1, 2)).isFalse();
    assertThat(model.wayOf(0)).isEqualTo(0);
    assertThat(model.wayOf(-16)).isEqualTo(0);
  }

  @Test
  void access_badValues_areRejected() {
    CacheModel model = CacheModel.of(CacheGeometry.builder(1024).build(), Replacement.LRU);
    assertThat(model.access(0xffff_ffffL)).isFalse();
    for (long address : new long[] {0x1_0000_0000L, -1}) {
      assertThat(assertThrows(IllegalArgumentException.class, () -> model.access(address)))
          .hasMessageThat()
          .isEqualTo(
              "cache model: an address must have at most 32 bits, found 0x"
                  + Long.toHexString(address));
    }
    assertThat(assertThrows(IllegalArgumentException.class, () -> model.access(0, 0)))
        .hasMessageThat()
        .isEqualTo("cache model: the bytes of an access must be at least 1, found 0");
    assertThrows(IndexOutOfBoundsException.class, () -> model.hits(32));
    assertThat(model.misses()).isEqualTo(1);
  }

  /**
   * Half a second's worth of a laptop's accesses. The bound is ten times below what an idle machine
   * does (50 million a second and more), so that it holds beside other work.
   */
  @ParameterizedTest
  @EnumSource
  void access_manyTimes_isFastAndAllocatesNothing(Replacement replacement) {
    CacheModel model = CacheModel.of(CacheGeometry.builder(16384).ways(4).build(), replacement);
    run(model, 2_000_000);
    long bytes = THREADS.getCurrentThreadAllocatedBytes();
    long start = THREADS.getCurrentThreadCpuTime();
    run(model, 5_000_000);
    double seconds = (THREADS.getCurrentThreadCpuTime() - start) / 1e9;
    // What the counters themselves and the compiler's switch of code may take.
    assertThat(THREADS.getCurrentThreadAllocatedBytes() - bytes).isLessThan(10_000L);
    assertThat(model.hits() + model.misses()).isEqualTo(7_000_000);
    assertWithMessage("million accesses a second").that(5 / seconds).isGreaterThan(5.0);
  }

  /** Runs of code with jumps, and a working set a little larger than the cache. */
  private static void run(CacheModel model, int accesses) {
    int state = 1;
    long address = 0;
    for (int i = 0; i < accesses; i++) {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      address = (state & 7) == 0 ? (state >>> 8) % 20480 : address + 8;
      model.access(address);
    }
  }
}

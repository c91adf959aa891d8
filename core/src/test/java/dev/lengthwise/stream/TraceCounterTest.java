package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.testing.Slow;
import java.util.HashMap;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/** Whatever the addresses are, an instruction is found after a few looks. */
@Slow
class TraceCounterTest {

  private static final int MANY = 200_000;

  /** The factor that spread addresses before the key was drawn for each counter. */
  private static final long KNOWN = 0x9e3779b97f4a7c15L;

  /** Looks for each instruction that no order of addresses may pass. */
  private static final double FEW = 12;

  private static double looks(TraceCounts.Counter counter) {
    return counter.looks() / (double) counter.counts().distinct();
  }

  /** Returns the inverse of an odd number modulo 2^64, by Newton's steps. */
  private static long inverse(long odd) {
    long inverse = odd;
    for (int i = 0; i < 6; i++) {
      inverse *= 2 - odd * inverse;
    }
    return inverse;
  }

  /** Returns addresses whose groups times a factor are small, so that they share their top bits. */
  private static long[] crafted(long factor) {
    long[] addresses = new long[MANY];
    int found = 0;
    for (long product = 1; found < MANY; product++) {
      long group = inverse(factor) * product;
      if (group >>> 59 == 0) {
        addresses[found++] = group << 5;
      }
    }
    return addresses;
  }

  @Test
  void instruction_addressesMadeForAKnownFactor_takeFewLooks() {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (long address : crafted(KNOWN)) {
      counter.instruction(address, 1);
    }
    assertThat(looks(counter)).isLessThan(FEW);
    assertThat(counter.counts().distinct()).isEqualTo(MANY);
  }

  /** The counter is worn down by addresses made for its own key, and by those alone. */
  @Test
  void instruction_addressesThatCollideUnderOneKey_takeFewLooksUnderAnother() {
    long key = 0x1234567;
    Map<Long, Integer> groups = new HashMap<>();
    TraceCounts.Counter probe = new TraceCounts.Counter(key);
    SplittableRandom random = new SplittableRandom(3);
    long[] addresses = new long[2000];
    int found = 0;
    while (found < addresses.length) {
      long address = random.nextLong() & 0xffffffffffe0L;
      if (probe.group(address) < 8 && groups.put(address, 1) == null) {
        addresses[found++] = address;
      }
    }
    TraceCounts.Counter aimedAt = new TraceCounts.Counter(key);
    TraceCounts.Counter other = new TraceCounts.Counter(key + 2);
    for (long address : addresses) {
      aimedAt.instruction(address, 1);
      other.instruction(address, 1);
    }
    assertThat(looks(aimedAt)).isGreaterThan(FEW);
    assertThat(looks(other)).isLessThan(FEW);
    assertThat(aimedAt.counts()).isEqualTo(other.counts());
  }

  @Test
  void instruction_everyLengthAtEveryAddress_takesFewerLooksThanTheNearSlots() {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (int i = 0; i < MANY; i++) {
      counter.instruction(i / 63, 1 + i % 63);
    }
    assertThat(looks(counter)).isLessThan(80.0);
    TraceCounts counts = counter.counts();
    for (int i = 0; i < MANY; i++) {
      assertThat(counts.address(i)).isEqualTo(i / 63);
      assertThat(counts.length(i)).isEqualTo(1 + i % 63);
      assertThat(counts.count(i)).isEqualTo(1L);
    }
  }

  @Test
  void instruction_usualCode_takesFewLooks() {
    TraceCounts.Counter dense = new TraceCounts.Counter();
    TraceCounts.Counter code = new TraceCounts.Counter();
    SplittableRandom random = new SplittableRandom(1);
    long address = 0x8049000;
    for (int i = 0; i < MANY; i++) {
      dense.instruction(i, 1);
      code.instruction(address, 3);
      address += 1 + random.nextInt(6);
    }
    assertThat(looks(code)).isLessThan(8.0);
    assertThat(looks(dense)).isLessThan(32.0);
  }

  /** Counts do not depend on the key, nor on the order. */
  @Test
  void counts_ofRandomTraces_areThoseOfAMap() {
    SplittableRandom random = new SplittableRandom(5);
    for (int round = 0; round < 20; round++) {
      TraceCounts.Counter counter = new TraceCounts.Counter();
      Map<Long, Long> expected = new HashMap<>();
      for (int i = 0; i < 20_000; i++) {
        long address = random.nextInt(round < 10 ? 50 : 5000) - 20L;
        int length = 1 + random.nextInt(63);
        counter.instruction(address, length);
        expected.merge(address << 6 | length, 1L, Long::sum);
      }
      TraceCounts counts = counter.counts();
      assertThat(counts.distinct()).isEqualTo(expected.size());
      for (int i = 0; i < counts.distinct(); i++) {
        assertThat(counts.count(i))
            .isEqualTo(expected.get(counts.address(i) << 6 | counts.length(i)));
        assertThat(counts.indexOf(counts.address(i), counts.length(i))).isEqualTo(i);
      }
    }
  }
}

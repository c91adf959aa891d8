package dev.lengthwise.study.fetch;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.study.NaiveFrontEnd;
import dev.lengthwise.table.CodeUnit;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Compares {@link FetchModel} with a naive machine, closed forms and hand-counted cycles. */
class FetchModelTest {

  private static final int RANDOM_CASES = 20_000;

  @Test
  void randomConfigurations_equalTheNaiveMachine() {
    Random random = new Random(7);
    Map<Throughput.SlotUse, Long> seen = new EnumMap<>(Throughput.SlotUse.class);
    for (int i = 0; i < RANDOM_CASES; i++) {
      CodeUnit unit = List.of(CodeUnit.values()).get(random.nextInt(3));
      FrontEnd frontEnd = frontEnd(random);
      List<NaiveFrontEnd.Step> steps = program(frontEnd, unit.bytes(), random);
      Throughput naive = NaiveFrontEnd.run(frontEnd, unit.bytes(), steps);
      assertWithMessage("case %s: %s, %s", i, frontEnd, steps)
          .that(run(frontEnd, unit, steps))
          .isEqualTo(naive);
      naive.slots().forEach((use, count) -> seen.merge(use, count, Long::sum));
    }
    for (Throughput.SlotUse use : Throughput.SlotUse.values()) {
      assertWithMessage("slots of use %s in all cases", use)
          .that(seen.get(use))
          .isAtLeast(RANDOM_CASES / 10L);
    }
  }

  private static FrontEnd frontEnd(Random random) {
    int window = 1 << random.nextInt(5);
    FrontEnd.Builder builder =
        FrontEnd.builder(window)
            .queue(window + random.nextInt(24))
            .decoder(1 + random.nextInt(4))
            .slowPath(random.nextInt(6))
            .redirect(random.nextInt(4));
    if (window >= 4 && random.nextInt(4) > 0) {
      int line = window << random.nextInt(2);
      int ways = 1 + random.nextInt(3);
      int sets = 1 << random.nextInt(3);
      CacheGeometry geometry =
          CacheGeometry.builder(line * ways * sets)
              .ways(ways)
              .lineBytes(line)
              .addressBits(random.nextBoolean() ? 8 : 64)
              .windowBytes(window)
              .build();
      builder.cache(InstructionCache.named("icache", geometry).build(), random.nextInt(8));
    }
    return builder.build();
  }

  /** Runs of code and jumps in a small range, so that lines are met again, also over the end. */
  private static List<NaiveFrontEnd.Step> program(FrontEnd frontEnd, int unit, Random random) {
    List<NaiveFrontEnd.Step> steps = new ArrayList<>();
    boolean narrow = frontEnd.cache().isPresent() && address(frontEnd) == 8;
    long address = random.nextInt(256);
    int count = random.nextInt(40);
    for (int i = 0; i < count; i++) {
      int bytes = 1 + random.nextInt(Math.min(9, frontEnd.longestInstruction()));
      int prefixes = random.nextInt((bytes - 1) / unit + 1);
      steps.add(new NaiveFrontEnd.Step(address, bytes, prefixes, random.nextInt(5) > 0));
      address =
          random.nextInt(4) == 0
              ? (narrow || random.nextBoolean() ? random.nextInt(256) : -1 - random.nextInt(64))
              : address + bytes;
      address = narrow ? address & 0xff : address;
    }
    return steps;
  }

  private static int address(FrontEnd frontEnd) {
    return frontEnd.cache().orElseThrow().geometry().addressBits();
  }

  private static Throughput run(FrontEnd frontEnd, CodeUnit unit, List<NaiveFrontEnd.Step> steps) {
    FetchModel model = FetchModel.of(frontEnd, unit);
    steps.forEach(s -> model.instruction(s.address(), s.bytes(), s.prefixItems(), s.handled()));
    return model.finish();
  }

  /**
   * Straight code of one length, an ideal cache, all handled: after the first window's cycle, each
   * cycle decodes the lesser of what the decoder takes and what a window brings.
   */
  @ParameterizedTest
  @CsvSource({
    "1, 4, 1", "1, 4, 2", "1, 4, 4", "1, 4, 8", "2, 8, 1", "2, 8, 3", "2, 8, 4", "2, 8, 16",
    "4, 16, 1", "4, 16, 2", "4, 16, 3", "4, 16, 4", "8, 32, 2", "8, 32, 5", "16, 16, 4", "1, 32, 32"
  })
  void straightCode_takesTheClosedFormsCycles(int bytes, int window, int width) {
    int count = 10_007;
    FrontEnd frontEnd =
        FrontEnd.builder(window).decoder(width).queue(2 * window + width * bytes).build();
    FetchModel model = FetchModel.of(frontEnd, CodeUnit.BYTE);
    for (int i = 0; i < count; i++) {
      model.instruction(0x1000 + (long) i * bytes, bytes, 0, true);
    }
    int perCycle = Math.min(width, window / bytes);
    assertThat(model.finish().cycles()).isEqualTo(1 + (count + perCycle - 1) / perCycle);
  }

  /** Straight code that repeats a pattern of lengths whose sum is a whole number of windows. */
  @ParameterizedTest
  @CsvSource({"8, 1", "8, 2", "8, 4", "16, 2", "16, 3", "16, 8", "32, 4", "4, 1", "4, 4"})
  void straightCode_reachesDecoderWidthOrWindowByMeanLength(int window, int width) {
    int[] lengths = {1, 3, 2, 6, 5, 1, 4, 2, 7, 1}; // 32 bytes, 3.2 on average
    int count = 1_000_000;
    FrontEnd frontEnd = FrontEnd.builder(window).decoder(width).queue(1024).build();
    FetchModel model = FetchModel.of(frontEnd, CodeUnit.BYTE);
    long address = 0;
    for (int i = 0; i < count; i++) {
      model.instruction(address, lengths[i % lengths.length], 0, true);
      address += lengths[i % lengths.length];
    }
    double bound = Math.min(width, window / 3.2);
    Throughput found = model.finish();
    assertThat(found.ipc()).isAtMost(bound);
    // The window of an instruction that is still to come is read in time except where the decoder,
    // between two bounds, is held up by one item; away from that point the bound is reached.
    if (width <= 0.5 * window / 3.2 || width >= 2 * window) {
      assertThat(found.ipc()).isAtLeast(0.999 * bound);
    }
  }

  @Test
  void loop_takesItsCyclesEachTime() {
    // 4 instructions of 4 bytes from the start of a window of 8 on, 2 in a cycle: two cycles of
    // decoding, one for the first window, two of redirect.
    FrontEnd frontEnd = FrontEnd.builder(8).decoder(2).redirect(2).queue(24).build();
    FetchModel model = FetchModel.of(frontEnd, CodeUnit.BYTE);
    for (int i = 0; i < 400; i++) {
      model.instruction(0x40 + i % 4 * 4, 4, 0, true);
    }
    Throughput found = model.finish();
    // The first time the redirect is missing.
    assertThat(found.cycles()).isEqualTo(100 * (2 + 2) - 1);
  }

  @Test
  void slowPath_costsItsCyclesAndTheRestOfTheCycle() {
    FrontEnd frontEnd = FrontEnd.builder(8).decoder(4).slowPath(3).queue(64).build();
    Throughput found =
        run(
            frontEnd,
            CodeUnit.BYTE,
            List.of(
                new NaiveFrontEnd.Step(0, 1, 0, true),
                new NaiveFrontEnd.Step(1, 1, 0, false),
                new NaiveFrontEnd.Step(2, 3, 2, true)));
    // Cycle 0 waits for the window; 1 decodes two; 2 to 4 the slow path; 5 two prefixes and the
    // last item.
    assertThat(found.cycles()).isEqualTo(6);
    assertThat(found.slots())
        .containsExactly(
            Throughput.SlotUse.INSTRUCTION, 3L,
            Throughput.SlotUse.PREFIX, 2L,
            Throughput.SlotUse.SLOW_PATH, 2L + 3 * 4,
            Throughput.SlotUse.TAKEN_BRANCH, 4L + 1,
            Throughput.SlotUse.MISS, 0L,
            Throughput.SlotUse.DELIVERY, 0L);
    assertThat(found.ipc()).isEqualTo(0.5);
    assertThat(found.cycles(Throughput.SlotUse.SLOW_PATH)).isEqualTo(3.5);
  }

  @Test
  void miss_delaysItsWindow() {
    CacheGeometry geometry =
        CacheGeometry.builder(64).lineBytes(16).windowBytes(8).addressBits(32).ways(1).build();
    FrontEnd frontEnd =
        FrontEnd.builder(8).cache(InstructionCache.named("icache", geometry).build(), 7).build();
    List<NaiveFrontEnd.Step> steps = new ArrayList<>();
    for (int i = 0; i < 4; i++) {
      steps.add(new NaiveFrontEnd.Step(i * 8L, 8, 0, true));
    }
    Throughput found = run(frontEnd, CodeUnit.BYTE, steps);
    // Cycle 0 asks for the first line; 1 to 7 wait; 8 decodes and reads the line's other window; 9
    // decodes and asks for the second line; 10 to 16 wait; 17 and 18 decode.
    assertThat(found.misses()).isEqualTo(2);
    assertThat(found.slots().get(Throughput.SlotUse.MISS)).isEqualTo(7L + 7);
    assertThat(found.slots().get(Throughput.SlotUse.TAKEN_BRANCH)).isEqualTo(1L);
    assertThat(found.cycles()).isEqualTo(19);
  }

  @Test
  void noInstruction_takesNoCycle() {
    FetchModel model = FetchModel.of(FrontEnd.builder(8).build(), CodeUnit.BYTE);
    Throughput found = model.finish();
    assertThat(found.cycles()).isEqualTo(0);
    assertThat(found.ipc()).isEqualTo(0.0);
    assertThat(model.finish()).isEqualTo(found);
  }

  @Test
  void instruction_refuses() {
    CacheGeometry geometry =
        CacheGeometry.builder(64).lineBytes(16).windowBytes(8).addressBits(16).build();
    FrontEnd frontEnd =
        FrontEnd.builder(8)
            .queue(14)
            .cache(InstructionCache.named("icache", geometry).build(), 7)
            .build();
    FetchModel model = FetchModel.of(frontEnd, CodeUnit.BYTE);
    assertRefused(
        model,
        0x20,
        8,
        0,
        "fetch model: an instruction must be in [1, 7] bytes, for the queue to hold it, found 8 at"
            + " 0x20");
    assertRefused(
        model,
        0x20,
        0,
        0,
        "fetch model: an instruction must be in [1, 7] bytes, for the queue to hold it, found 0 at"
            + " 0x20");
    assertRefused(
        model, 0x1fffe, 2, 0, "fetch model: an address must have at most 16 bits, found 0x1fffe");
    assertRefused(
        model,
        0x20,
        2,
        2,
        "fetch model: prefixes must leave room for an opcode, found 2 in 2 bytes at 0x20");
    assertRefused(
        model,
        0x20,
        2,
        -1,
        "fetch model: prefixes must leave room for an opcode, found -1 in 2 bytes at 0x20");
    model.finish();
    IllegalStateException e =
        assertThrows(IllegalStateException.class, () -> model.instruction(0x20, 1, 0, true));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo("fetch model: no instruction is expected after the end, found one at 0x20");
  }

  private static void assertRefused(
      FetchModel model, long address, int bytes, int prefixes, String message) {
    IllegalArgumentException e =
        assertThrows(
            IllegalArgumentException.class,
            () -> model.instruction(address, bytes, prefixes, true));
    assertThat(e).hasMessageThat().isEqualTo(message);
  }
}

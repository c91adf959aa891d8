package dev.lengthwise.study;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Holds what the accuracy of many lanes costs. */
@Slow
class AccuracySpeedTest {

  private static final InstructionSet SET = Libc32.TRUTH.instructionSet();

  private static final int LANES = 10_000;

  private static final int INSTRUCTIONS = 10_000_000;

  /** The library's instructions, executed 10 million times in all, some far more than others. */
  private static CodeStream executed() {
    CodeStream once = Libc32.stream();
    SplittableRandom random = new SplittableRandom(4);
    TraceCounts.Counter counter = new TraceCounts.Counter();
    TraceCounts places = once.counts();
    for (int i = 0; i < INSTRUCTIONS; ) {
      int block = random.nextInt(1 + random.nextInt(1 + random.nextInt(places.distinct())));
      for (int j = block; j < Math.min(block + 20, places.distinct()) && i < INSTRUCTIONS; j++) {
        counter.instruction(places.address(j), places.length(j));
        i++;
      }
    }
    return new CodeStream("executed", once.image(), counter.counts());
  }

  @Test
  void accuracy_tenThousandRowSubsets_takeLessThanAMinute() {
    CodeStream stream = executed();
    long loaded = System.nanoTime();
    AccuracyProfile profile = AccuracyProfile.of(stream, Libc32.TRUTH, Ia32.MODES_32);
    assertThat(profile.executed()).isEqualTo(INSTRUCTIONS);
    List<PrefixTreatment> treatments =
        List.of(PrefixTreatment.ONE_UNIT_EACH, PrefixTreatment.folded(2));
    List<SpecifierDepth> depths = List.of(SpecifierDepth.INDEX_BYTE, SpecifierDepth.EVERYTHING);
    double[] shares =
        IntStream.range(0, LANES)
            .parallel()
            .mapToDouble(
                i -> {
                  Predecoder.Builder builder =
                      Predecoder.builder(SET)
                          .prefixes(treatments.get(i % 2))
                          .depth(depths.get(i / 2 % 2))
                          .lookahead(5)
                          .longest(12);
                  new RandomLanes(SET, i).leaveOut(builder, i % 300);
                  return profile.accuracy(builder.build()).exactShare();
                })
            .toArray();
    double seconds = (System.nanoTime() - loaded) / 1e9;
    System.out.printf(
        Locale.ROOT,
        "%d lanes on %d instructions, %d distinct, %d classes: %.1f s%n",
        LANES,
        profile.executed(),
        stream.counts().distinct(),
        profile.classes(),
        seconds);
    assertThat(seconds).isLessThan(60.0);
    List<Double> distinct = new ArrayList<>();
    for (double share : shares) {
      assertThat(share).isAtMost(1.0);
      distinct.add(share);
    }
    assertThat(distinct.stream().distinct().count()).isGreaterThan(LANES / 2);
  }
}

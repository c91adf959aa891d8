package dev.lengthwise.study.advice;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.SmallSet;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Searches for lanes of a small instruction set, where many choices of rows can be tried. */
@Slow
class AdvisorTest {

  private static final Realizer REALIZER = Realizer.on(DeviceProfile.sixInputDualOutput());

  private static final StudyStream STREAM = SmallSet.stream("searched", 1);

  private static final List<RowUnit> UNITS = RowUnit.of(SmallSet.SET.table());

  private static Advisor advisor(Style style) {
    return Advisor.on(STREAM, REALIZER, style);
  }

  private static Predecoder without(int removed) {
    Predecoder.Builder lane =
        Predecoder.builder(SmallSet.SET).prefixes(PrefixTreatment.ONE_UNIT_EACH);
    for (int unit = 0; unit < UNITS.size(); unit++) {
      if ((removed >> unit & 1) != 0) {
        UNITS.get(unit).leftOut().forEach(r -> lane.leaveOut(r.map(), r.from(), r.to()));
      }
    }
    return lane.build();
  }

  @Test
  void within_isAsGoodAsTheBestOfManySubsetsOfRows() {
    assertThat(UNITS).hasSize(10);
    // Every subset of all units but the first, which is worth most, and the last; a fifth of them
    // in a build.
    List<Integer> luts = new ArrayList<>();
    List<Long> exact = new ArrayList<>();
    for (int removed = 0; removed < 1 << (UNITS.size() - 1); removed += 2 * Extent.of(5, 1)) {
      Predecoder lane = without(removed);
      luts.add(REALIZER.realize(lane, Style.ROM).unprovedTotal().luts());
      exact.add(STREAM.accuracy(lane).exact());
    }
    int full = luts.get(0);
    int misses = 0;
    for (int room : new int[] {full, full * 3 / 4, full / 2, full / 3, full / 4}) {
      long best = 0;
      for (int i = 0; i < luts.size(); i++) {
        best = luts.get(i) <= room ? Math.max(best, exact.get(i)) : best;
      }
      Advice advice = advisor(Style.ROM).within("gate_advised", room);
      String text = room + " LUTs: " + advice.cost() + ", best of all " + best + ", " + advice;
      assertWithMessage(text).that(advice.cost().luts()).isAtMost(room);
      assertWithMessage(text)
          .that(REALIZER.realize(advice.lane(), Style.ROM).total().luts())
          .isEqualTo(advice.cost().luts());
      assertThat(advice.accuracy()).isEqualTo(STREAM.accuracy(advice.lane()));
      assertWithMessage(text).that(advice.accuracy().exact()).isAtLeast((long) (0.9 * best));
      misses += advice.accuracy().exact() < best ? 1 : 0;
    }
    assertThat(misses).isAtMost(2);
  }

  @Test
  void within_countsTheStyleAskedFor() {
    int full = REALIZER.realize(without(0), Style.BANKED).unprovedTotal().luts();
    Advice advice =
        advisor(Style.BANKED).withFinalists(1).withThreads(1).within("gate_advised", full / 2);
    assertThat(advice.design().style()).isEqualTo(Style.BANKED);
    assertThat(advice.cost().luts()).isAtMost(full / 2);
    assertThat(advice.design().total().luts()).isEqualTo(advice.cost().luts());
    assertThat(advice.lane().name()).isEqualTo("gate_advised");
    assertThat(advice.realized()).isAtLeast(2);
    Advice again =
        advisor(Style.BANKED).withFinalists(1).withThreads(2).within("gate_advised", full / 2);
    assertThat(again.lane()).isEqualTo(advice.lane());
    assertThat(again.cost()).isEqualTo(advice.cost());
  }

  @Test
  void within_networks_realisesFinalistsAlone() {
    Advice all = advisor(Style.LUT_NETWORK).withFinalists(1).within("gate_advised", 1_000);
    assertThat(all.realized()).isEqualTo(1);
    assertThat(all.estimated()).isAtLeast(8);
    assertThat(all.accuracy()).isEqualTo(STREAM.accuracy(without(0)));
    assertThat(all.design().style()).isEqualTo(Style.LUT_NETWORK);
    assertThat(all.design().total().luts()).isEqualTo(all.cost().luts());
  }

  @Test
  void reaching_isExactForTheShareWithNoMoreLutsThanAllRows() {
    int full = REALIZER.realize(without(0), Style.BANKED).unprovedTotal().luts();
    int before = full;
    for (double share : new double[] {1, 0.9, 0.6}) {
      double reachable = share * STREAM.accuracy(without(0)).exactShare();
      Advice advice = advisor(Style.BANKED).reaching("gate_advised", reachable);
      assertThat(advice.accuracy().exactShare()).isAtLeast(reachable);
      assertThat(advice.cost().luts()).isAtMost(before);
      before = advice.cost().luts();
    }
    assertThat(before).isLessThan(full);
  }

  @Test
  void advisor_refuses() {
    Advisor advisor = advisor(Style.ROM);
    assertMessage(() -> advisor.within("x", 0), "advisor: LUTs must be at least 1, found 0");
    assertMessage(
        () -> advisor.reaching("x", 0), "advisor: the exact share must be in (0, 1], found 0.0");
    assertMessage(
        () -> advisor.reaching("x", Double.NaN),
        "advisor: the exact share must be in (0, 1], found NaN");
    assertMessage(advisor::withDepths, "advisor: a depth is expected at least once, found none");
    assertMessage(
        advisor::withPrefixes, "advisor: a prefix treatment is expected at least once, found none");
    assertMessage(() -> advisor.withFinalists(0), "advisor: finalists must be at least 1, found 0");
    assertMessage(() -> advisor.withThreads(0), "advisor: threads must be at least 1, found 0");
    IllegalStateException e =
        assertThrows(
            IllegalStateException.class,
            () ->
                advisor
                    .withDepths(SpecifierDepth.NONE)
                    .withPrefixes(PrefixTreatment.NOT_HANDLED)
                    .reaching("x", 0.999));
    assertThat(e)
        .hasMessageThat()
        .matches("advisor: no lane is exact for a share of 0\\.999000, the most is 0\\.[0-9]{6}");
  }

  private static void assertMessage(Runnable action, String message) {
    IllegalArgumentException e = assertThrows(IllegalArgumentException.class, action::run);
    assertThat(e).hasMessageThat().isEqualTo(message);
  }
}

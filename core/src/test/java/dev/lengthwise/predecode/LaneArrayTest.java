package dev.lengthwise.predecode;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.testing.SampleSets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class LaneArrayTest {

  private static Predecoder lane() {
    return Predecoder.builder(SampleSets.bytes()).build();
  }

  private static void assertFault(Class<? extends Exception> type, String message, Executable e) {
    assertThat(assertThrows(type, e)).hasMessageThat().isEqualTo(message);
  }

  @Test
  void build_nothingSaid_seesTheNextWindow() {
    LaneArray array = LaneArray.builder(lane(), 16).build();
    assertThat(array.name()).isEqualTo("sample_lanes");
    assertThat(array.nextBytes()).isEqualTo(lane().lookahead());
    assertThat(array.latency()).isEqualTo(0);
    assertThat(array.lateModes()).isEqualTo(0b11);
    assertThat(array.offsetBits()).isEqualTo(4);
    assertThat(array.marking().label()).isEqualTo("full_ripple");
  }

  @Test
  void carryBits_longItemsAndWideWindows_fitBoth() {
    assertThat(LaneArray.builder(lane(), 4).build().carryBits()).isEqualTo(3);
    assertThat(LaneArray.builder(lane(), 32).build().carryBits()).isEqualTo(5);
  }

  @Test
  void laneAt_windowsEnd_seesNoFurther() {
    LaneArray array = LaneArray.builder(lane(), 4).end(WindowEnd.NOT_HANDLED).build();
    assertThat(array.laneAt(3).orElseThrow().lookahead()).isEqualTo(0);
    assertThat(array.laneAt(1).orElseThrow().name()).isEqualTo("sample_lane_last3");
    assertThat(array.nextBytes()).isEqualTo(0);
  }

  @Test
  void lateModes_foldedPrefixes_areNone() {
    Predecoder folded =
        Predecoder.builder(SampleSets.bytes())
            .prefixes(PrefixTreatment.folded(2))
            .prefix(0xf0, PrefixTreatment.ONE_UNIT_EACH)
            .build();
    assertThat(LaneArray.builder(folded, 8).build().lateModes()).isEqualTo(1);
  }

  @Test
  void of_windowOutOfRange_isRejected() {
    for (int bytes : new int[] {3, 33}) {
      assertFault(
          IllegalArgumentException.class,
          "lane array of sample_lane: a window must be in [4, 32] bytes, found " + bytes,
          () -> LaneArray.builder(lane(), bytes));
    }
  }

  @Test
  void cut_twice_isRejected() {
    LaneArray.Builder builder = LaneArray.builder(lane(), 4).cut(PipelineCut.AFTER_LANES);
    assertFault(
        IllegalStateException.class,
        "lane array of sample_lane: a pipeline cut is given once, found AFTER_LANES again",
        () -> builder.cut(PipelineCut.AFTER_LANES));
    assertThat(builder.cut(PipelineCut.AFTER_MARKS).build().latency()).isEqualTo(2);
  }

  @Test
  void end_twice_isRejected() {
    LaneArray.Builder builder = LaneArray.builder(lane(), 4).end(WindowEnd.NEXT_BYTES);
    assertFault(
        IllegalStateException.class,
        "lane array of sample_lane: end is given once, found NOT_HANDLED after NEXT_BYTES",
        () -> builder.end(WindowEnd.NOT_HANDLED));
  }

  @Test
  void build_nameOfTheLane_isRejected() {
    assertFault(
        DescriptionException.class,
        "lane array of sample_lane: array and lane must not share a name, found sample_lane",
        () -> LaneArray.builder(lane(), 4).name("sample_lane").build());
  }

  @Test
  void first_outOfRange_isRejected() {
    for (int count : new int[] {0, 9}) {
      assertFault(
          IllegalArgumentException.class,
          "marking: the first instructions must be in [1, 8], found " + count,
          () -> Marking.first(count));
    }
  }
}

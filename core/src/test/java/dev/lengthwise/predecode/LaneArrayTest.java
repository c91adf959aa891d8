package dev.lengthwise.predecode;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.testing.SampleSets;
import java.util.Set;
import java.util.TreeSet;
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

  private static LaneArray.Builder byEntry(Predecoder lane, int levels, int lutInputs) {
    return LaneArray.builder(lane, 8).marking(Marking.byEntry(levels, lutInputs));
  }

  @Test
  void byEntry_outOfRange_isRejected() {
    for (int levels : new int[] {1, 17}) {
      assertFault(
          IllegalArgumentException.class,
          "marking: the levels a cycle must be in [2, 16], found " + levels,
          () -> Marking.byEntry(levels, 6));
    }
    for (int inputs : new int[] {3, 7}) {
      assertFault(
          IllegalArgumentException.class,
          "marking: the inputs of a LUT must be in [4, 6], found " + inputs,
          () -> Marking.byEntry(2, inputs));
    }
  }

  @Test
  void byEntry_fewerLevelsThanTheLoop_isRejected() {
    assertFault(
        DescriptionException.class,
        "lane array of sample_lane: the loop of marks by entry, a selection of one of 9 exits, has"
            + " 3 levels of LUTs of 4 inputs, so that a cycle must have as many, found 2",
        () -> byEntry(lane(), 2, 4).build());
    EntryPlan plan = byEntry(lane(), 3, 4).build().entryPlan().orElseThrow();
    assertThat(plan.loopLevels()).isEqualTo(3);
    assertThat(plan.toString())
        .isEqualTo(
            plan.states()
                + " entry states in "
                + plan.codeBits()
                + " bits, at most 3 levels a cycle, 3 in the loop, latency "
                + plan.latency());
  }

  @Test
  void byEntry_pipelineCut_isRejected() {
    assertFault(
        DescriptionException.class,
        "lane array of sample_lane: marks by entry have registers of their own and no pipeline"
            + " cuts, found [AFTER_LANES]",
        () -> byEntry(lane(), 3, 4).cut(PipelineCut.AFTER_LANES).build());
  }

  @Test
  void entryPlan_moreLevels_takesFewerCycles() {
    int before = Integer.MAX_VALUE;
    for (int levels = 3; levels <= 16; levels++) {
      int latency = byEntry(lane(), levels, 4).build().latency();
      assertThat(latency).isAtMost(before);
      before = latency;
    }
    assertThat(before).isEqualTo(6);
    assertThat(byEntry(lane(), 3, 4).build().latency()).isEqualTo(10);
    assertThat(LaneArray.builder(lane(), 8).build().entryPlan()).isEmpty();
  }

  @Test
  void entryPlan_states_haveNumbersOfTheirOwn() {
    EntryPlan plan = byEntry(lane(), 3, 4).build().entryPlan().orElseThrow();
    Set<Integer> numbers = new TreeSet<>();
    for (int carry = 0; carry < lane().longest(); carry++) {
      numbers.add(plan.state(carry, 0));
    }
    for (int changed = 1; changed < 4; changed++) {
      numbers.add(plan.state(0, changed));
    }
    assertThat(plan.sharesFarthest()).isFalse();
    assertThat(numbers).hasSize(plan.states());
    assertThat(numbers).containsExactly(0, 1, 2, 3, 4, 5, 6, 7, 8);
    assertFault(
        IllegalArgumentException.class,
        "entry plan: a start in [0, 6) with modes changed near it only is expected, found 1 with 2",
        () -> plan.state(1, 2));
    assertFault(
        IllegalArgumentException.class,
        "entry plan: a start in [0, 6) with modes changed near it only is expected, found 6 with 0",
        () -> plan.state(6, 0));
  }

  @Test
  void entryPlan_oneLateMode_sharesTheFarthestState() {
    Predecoder flipping =
        Predecoder.builder(SampleSets.bytes())
            .prefixes(PrefixTreatment.NOT_HANDLED)
            .prefix(0xf0, PrefixTreatment.ONE_UNIT_EACH)
            .build();
    EntryPlan plan = byEntry(flipping, 2, 4).build().entryPlan().orElseThrow();
    assertThat(plan.sharesFarthest()).isTrue();
    assertThat(plan.states()).isEqualTo(flipping.longest());
    assertThat(plan.state(0, 1)).isEqualTo(plan.state(flipping.longest() - 1, 0));
  }
}

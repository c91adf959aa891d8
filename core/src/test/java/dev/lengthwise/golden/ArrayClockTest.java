package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.testing.SampleSets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The golden clock around redirects; circuits are compared with it elsewhere. */
class ArrayClockTest {

  private static final PipelineCut[] CUTS = PipelineCut.values();

  /** Items of one byte, then those of the window redirected to. */
  @Test
  void cycle_redirect_windowsBeforeItComeOutAndThenItsOwnMarks() {
    byte[] memory = new byte[16];
    for (int chosen = 0; chosen < 1 << CUTS.length; chosen++) {
      LaneArray.Builder builder =
          LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 4);
      for (int i = 0; i < CUTS.length; i++) {
        if ((chosen >> i & 1) != 0) {
          builder.cut(CUTS[i]);
        }
      }
      LaneArray array = builder.build();
      ArrayClock clock = ArrayClock.of(array);
      List<Integer> starts = new ArrayList<>();
      for (int cycle = 0; cycle < 8; cycle++) {
        int redirect = cycle == 0 ? 0 : cycle == 4 ? 2 : ArrayModel.NO_REDIRECT;
        boolean stall = cycle == 5;
        clock.offer(0, memory, 0, redirect);
        ArrayClock.Marks marks = clock.cycle(stall);
        if (!stall) {
          starts.add(marks.isValid() ? marks.starts() : -1);
        }
      }
      assertWithMessage("%s", array.cuts())
          .that(starts.subList(4, 4 + array.latency()))
          .doesNotContain(0b1100);
      assertWithMessage("%s", array.cuts()).that(starts.get(4 + array.latency())).isEqualTo(0b1100);
      assertThat(starts.subList(0, array.latency()))
          .containsExactlyElementsIn(Collections.nCopies(array.latency(), -1));
    }
  }

  /** The marks of a pipeline and the state behind them come together, stalls not counted. */
  @Test
  void cycle_marksByEntry_stateIsThatBehindTheMarksShown() {
    LaneArray array =
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 4)
            .marking(Marking.byEntry(3, 4))
            .build();
    // An item of two bytes at the last byte, then one that is not handled at byte 1.
    byte[] memory = {0, 0, 0, 0x10, 0, 0x3f, 0, 0};
    ArrayClock clock = ArrayClock.of(array);
    for (int cycle = 0; cycle < array.latency() + 2; cycle++) {
      if (cycle < 2) {
        clock.offer(0, memory, 4 * cycle, cycle == 0 ? 1 : ArrayModel.NO_REDIRECT);
      }
      if (cycle == 5) {
        ArrayClock.Marks held = clock.cycle(true);
        assertThat(held.isValid()).isFalse();
        assertThat(clock.isReady()).isFalse();
      }
      ArrayClock.Marks marks = clock.cycle(false);
      int window = cycle - array.latency();
      assertThat(clock.isReady()).isTrue();
      assertThat(marks.isValid()).isEqualTo(window >= 0);
      assertThat(clock.isWaiting()).isEqualTo(window != 0);
      assertThat(clock.carry()).isEqualTo(window == 0 ? 1 : 0);
      if (window >= 0) {
        assertThat(marks.starts()).isEqualTo(window == 0 ? 0b1110 : 0b0010);
        assertThat(marks.notHandled()).isEqualTo(window == 0 ? ArrayModel.NONE : 1);
      }
    }
  }
}

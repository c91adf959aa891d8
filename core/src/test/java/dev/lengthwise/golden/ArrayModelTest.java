package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

@Slow
class ArrayModelTest {

  private static final GoldenModel TRUTH = GoldenModel.of(SampleSets.bytes());
  private static final int WIDE = 1;
  private static final int FAR = 2;

  private static Predecoder lane() {
    return Predecoder.builder(SampleSets.bytes()).build();
  }

  private static byte[] bytes(int... values) {
    byte[] bytes = new byte[values.length];
    for (int i = 0; i < bytes.length; i++) {
      bytes[i] = (byte) values[i];
    }
    return bytes;
  }

  @Test
  void step_afterReset_waitsForARedirect() {
    ArrayModel model = ArrayModel.of(LaneArray.builder(lane(), 4).build());
    model.step(0, new byte[8], 0, ArrayModel.NO_REDIRECT);
    assertThat(model.starts()).isEqualTo(0);
    assertThat(model.isWaiting()).isTrue();
    model.step(0, new byte[8], 0, 1);
    assertThat(model.starts()).isEqualTo(0b1110);
    assertThat(model.isWaiting()).isFalse();
  }

  @Test
  void step_prefixAtTheEnd_changesTheModesOfTheNextWindow() {
    ArrayModel model = ArrayModel.of(LaneArray.builder(lane(), 4).build());
    byte[] memory = bytes(0, 0, 0xf3, 0xf0, 0x10, 1, 2, 3, 0x10, 1, 0, 0, 0, 0, 0, 0);
    model.step(0, memory, 0, 0);
    assertThat(model.starts()).isEqualTo(0b1111);
    assertThat(model.changedModes()).isEqualTo(WIDE);
    model.step(0, memory, 4, ArrayModel.NO_REDIRECT);
    assertWithMessage("two bytes, and two more as the prefix made them wide")
        .that(model.starts())
        .isEqualTo(0b0001);
    assertThat(model.changedModes()).isEqualTo(0);
    model.step(0, memory, 8, ArrayModel.NO_REDIRECT);
    assertThat(model.starts()).isEqualTo(0b1101);
  }

  @Test
  void step_prefixesInARow_accumulate() {
    ArrayModel model = ArrayModel.of(LaneArray.builder(lane(), 4).build());
    byte[] memory = bytes(0xf0, 0xf1, 0xf3, 0xf0, 0, 0, 0, 0);
    model.step(0, memory, 0, 0);
    assertWithMessage("a flip repeated changes nothing more")
        .that(model.changedModes())
        .isEqualTo(WIDE | FAR);
  }

  @Test
  void step_lengthPastAWholeWindow_leavesItWithoutStart() {
    ArrayModel model = ArrayModel.of(LaneArray.builder(lane(), 4).build());
    byte[] memory = bytes(0, 0, 0, 0x40, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0);
    model.step(0, memory, 0, 0);
    assertThat(model.carry()).isEqualTo(4);
    model.step(0, memory, 4, ArrayModel.NO_REDIRECT);
    assertThat(model.starts()).isEqualTo(0);
    assertThat(model.carry()).isEqualTo(0);
  }

  @Test
  void step_notHandled_marksItAndStopsUntilARedirect() {
    ArrayModel model = ArrayModel.of(LaneArray.builder(lane(), 4).build());
    byte[] memory = bytes(0, 0xee, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);
    model.step(0, memory, 0, 0);
    assertThat(model.starts()).isEqualTo(0b0011);
    assertThat(model.notHandled()).isEqualTo(1);
    model.step(0, memory, 4, ArrayModel.NO_REDIRECT);
    assertThat(model.starts()).isEqualTo(0);
    assertThat(model.notHandled()).isEqualTo(ArrayModel.NONE);
    model.step(0, memory, 4, 2);
    assertThat(model.starts()).isEqualTo(0b1100);
  }

  @Test
  void step_firstTwo_offersTheWindowAgain() {
    ArrayModel model =
        ArrayModel.of(LaneArray.builder(lane(), 4).marking(Marking.first(2)).build());
    byte[] memory = bytes(0, 0, 0xf0, 0x10, 1, 1, 1, 0, 0, 0, 0, 0);
    model.step(0, memory, 0, 0);
    assertThat(model.isUsed()).isFalse();
    assertThat(model.carry()).isEqualTo(2);
    model.step(0, memory, 0, ArrayModel.NO_REDIRECT);
    assertThat(model.isUsed()).isTrue();
    assertThat(model.position(1)).isEqualTo(3);
    assertThat(model.length(1)).isEqualTo(4);
    assertThat(model.carry()).isEqualTo(3);
  }

  @Test
  void step_windowsOfEachSize_agreeWithTheTruth() {
    SplittableRandom random = new SplittableRandom(3);
    for (WindowEnd end : WindowEnd.values()) {
      for (int window : new int[] {4, 7, 16, 32}) {
        for (Marking marking : List.of(Marking.fullRipple(), Marking.first(3))) {
          LaneArray array = LaneArray.builder(lane(), window).end(end).marking(marking).build();
          int walked = walk(array, random);
          assertThat(walked).isGreaterThan(500);
        }
      }
    }
  }

  /** Goes from item to item of random code, redirected where the row stops. */
  private static int walk(LaneArray array, SplittableRandom random) {
    ArrayModel model = ArrayModel.of(array);
    byte[] memory = new byte[32 * array.windowBytes() + 16];
    int items = 0;
    for (int round = 0; round < 60; round++) {
      int modes = random.nextInt(4);
      for (int i = 0; i < memory.length; i++) {
        int kind = random.nextInt(8);
        memory[i] = (byte) (kind == 0 ? 0xf0 + random.nextInt(4) : random.nextInt(0x50));
      }
      List<Integer> wanted = new ArrayList<>();
      List<Integer> found = new ArrayList<>();
      int at = 0;
      int changed = modes;
      int redirect = 0;
      for (int window = 0; window + array.windowBytes() <= memory.length - 16; ) {
        model.step(modes, memory, window, redirect);
        redirect = ArrayModel.NO_REDIRECT;
        for (int i = 0; i < model.count(); i++) {
          found.add(window + model.position(i));
          wanted.add(at);
          boolean prefix = (memory[at] & 0xfc) == 0xf0;
          int length = prefix ? 1 : TRUTH.lengthAt(changed, memory, at);
          assertThat(model.length(i)).isEqualTo(length);
          changed =
              prefix
                  ? SampleSets.bytes()
                      .prefixes()
                      .prefix(memory[at] & 0xff)
                      .orElseThrow()
                      .apply(List.of("wide", "far"), modes, changed)
                  : modes;
          at += length;
        }
        if (model.notHandled() >= 0) {
          assertThat(window + model.notHandled()).isEqualTo(at);
          boolean seen = array.end() == WindowEnd.NEXT_BYTES;
          assertThat(seen && TRUTH.lengthAt(changed, memory, at) > 0).isFalse();
          at++;
          changed = modes;
          if (at < window + array.windowBytes()) {
            redirect = at - window;
          } else {
            window += array.windowBytes();
            redirect = at - window;
          }
        } else if (model.isUsed()) {
          window += array.windowBytes();
        }
      }
      assertThat(found).isEqualTo(wanted);
      items += found.size();
    }
    return items;
  }

  @Test
  void look_withoutAccept_leavesTheState() {
    ArrayModel model = ArrayModel.of(LaneArray.builder(lane(), 4).build());
    model.look(0, new byte[8], 0, 0);
    assertThat(model.isWaiting()).isTrue();
    model.accept();
    assertThat(model.isWaiting()).isFalse();
    model.reset();
    assertThat(model.isWaiting()).isTrue();
  }

  @Test
  void look_inputsOutOfRange_areRefused() {
    LaneArray array = LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 4).build();
    ArrayModel model = ArrayModel.of(array);
    ArrayClock clock = ArrayClock.of(array);
    for (int redirect : new int[] {-2, 4, Integer.MAX_VALUE}) {
      String rule =
          "row sample_lanes: a redirect must be in [0, 4) or NO_REDIRECT, found " + redirect;
      assertThat(
              assertThrows(
                  IllegalArgumentException.class, () -> model.look(0, new byte[8], 0, redirect)))
          .hasMessageThat()
          .isEqualTo(rule);
      assertThat(
              assertThrows(
                  IllegalArgumentException.class, () -> clock.offer(0, new byte[8], 0, redirect)))
          .hasMessageThat()
          .isEqualTo(rule);
      assertThat(clock.cycle(false).isValid()).isFalse();
    }
    assertThat(
            assertThrows(IndexOutOfBoundsException.class, () -> model.look(0, new byte[8], -1, 0)))
        .hasMessageThat()
        .isEqualTo("row sample_lanes: an offset must be at least 0, found -1");
    assertThat(assertThrows(IndexOutOfBoundsException.class, () -> model.position(0)))
        .hasMessageThat()
        .isEqualTo("row sample_lanes: an item must be in [0, 0), found 0");
    clock.offer(0, new byte[8], 0, 0);
    ArrayClock.Marks marks = clock.cycle(false);
    assertThat(assertThrows(IndexOutOfBoundsException.class, () -> marks.length(9)))
        .hasMessageThat()
        .isEqualTo("marks: an item must be in [0, " + marks.count() + "), found 9");
  }

  @Test
  void look_windowNearTheLargestInt_readsZeros() {
    LaneArray array = LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 4).build();
    ArrayModel model = ArrayModel.of(array);
    model.look(0, new byte[8], 0, 0);
    int zeros = model.starts();
    model.look(0, new byte[] {0x31}, Integer.MAX_VALUE, 0);
    assertThat(model.starts()).isEqualTo(zeros);
  }
}

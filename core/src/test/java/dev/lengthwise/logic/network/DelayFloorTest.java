package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class DelayFloorTest {

  private static int levels(int lutInputs, int inputs) {
    return DelayFloor.of(DelayModel.LEVELS, lutInputs, IntStream.range(0, inputs).toArray());
  }

  @Test
  void of_inputsFromTheStart_asManyLevelsAsATreeOfThem() {
    assertThat(levels(4, 0)).isEqualTo(0);
    assertThat(levels(4, 1)).isEqualTo(0);
    assertThat(levels(4, 2)).isEqualTo(1);
    assertThat(levels(4, 4)).isEqualTo(1);
    assertThat(levels(4, 5)).isEqualTo(2);
    assertThat(levels(4, 16)).isEqualTo(2);
    assertThat(levels(4, 17)).isEqualTo(3);
    assertThat(levels(6, 36)).isEqualTo(2);
    assertThat(levels(6, 37)).isEqualTo(3);
  }

  @Test
  void of_lateInputs_passFewLuts() {
    // One input two levels late and three from the start: one LUT of all, right behind it.
    DelayModel late = DelayModel.LEVELS.withArrivals(2);
    assertThat(DelayFloor.of(late, 4, 0, 1, 2, 3)).isEqualTo(3);
    // Three pins are left in its LUT, with two levels before each: 3 * 16 inputs.
    assertThat(DelayFloor.of(late, 4, IntStream.range(0, 49).toArray())).isEqualTo(3);
    assertThat(DelayFloor.of(late, 4, IntStream.range(0, 50).toArray())).isEqualTo(4);
    assertThat(DelayFloor.of(late, 4, 1, 2)).isEqualTo(1);
    assertThat(DelayFloor.of(late, 4, 0)).isEqualTo(2);
  }

  @Test
  void of_pins_countAsTheFastest() {
    DelayModel pins = DelayModel.ofPins(300, 200, 400, 400).withFanOut(50);
    assertThat(DelayFloor.of(pins, 4, 0, 1, 2, 3)).isEqualTo(200);
    assertThat(DelayFloor.of(pins.withArrivals(0, 130), 4, 0, 1, 2, 3, 4)).isEqualTo(400);
  }

  /** A network in which every output reads all that it has a path from is no earlier. */
  @Test
  void of_randomNetworks_isNotAboveTheirDelay() {
    Random random = new Random(3);
    for (int round = 0; round < 300; round++) {
      LutNetwork network = tree(random);
      int inputs = network.inputNames().size();
      int[] arrivals = random.ints(inputs, 0, 9).toArray();
      DelayModel delays = DelayModel.ofPins(2, 3, 3).withArrivals(arrivals);
      assertWithMessage("%s, %s", network, Arrays.toString(arrivals))
          .that(DelayFloor.of(delays, 3, IntStream.range(0, inputs).toArray()))
          .isAtMost(delays.delay(network));
    }
  }

  /** The parity of all inputs, by LUTs of two or three signals that are drawn. */
  private static LutNetwork tree(Random random) {
    int inputs = 2 + random.nextInt(9);
    LutNetworkBuilder builder =
        LutNetwork.builder(IntStream.range(0, inputs).mapToObj(i -> "x" + i).toList());
    List<Integer> open = new ArrayList<>(IntStream.range(0, inputs).boxed().toList());
    while (open.size() > 1) {
      int[] fanIns =
          IntStream.range(0, Math.min(open.size(), 2 + random.nextInt(2)))
              .map(i -> open.remove(random.nextInt(open.size())))
              .toArray();
      open.add(
          builder.lut(TruthTable.of(fanIns.length, p -> (Integer.bitCount(p) & 1) != 0), fanIns));
    }
    builder.output("y", open.get(0));
    return builder.build();
  }
}

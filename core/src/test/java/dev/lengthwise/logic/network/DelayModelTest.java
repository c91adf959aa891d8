package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.IntUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class DelayModelTest {

  private static final TruthTable AND2 = TruthTable.parse("0001");
  private static final TruthTable AND3 = TruthTable.parse("00000001");

  /** Two LUTs: x = a and b, y = x and b and c; outputs x and y. */
  private static LutNetwork two() {
    LutNetworkBuilder builder = LutNetwork.builder(List.of("a", "b", "c"));
    int x = builder.lut(AND2, 0, 1);
    builder.output("x", x);
    builder.output("y", builder.lut(AND3, x, 1, 2));
    return builder.build();
  }

  @Test
  void delay_twoLuts_isAsAddedUpByHand() {
    LutNetwork two = two();
    assertThat(DelayModel.LEVELS.delay(two)).isEqualTo(2);
    // a and b are there at 0, through the inputs of 3 and 4: x is there at 4. It goes on through
    // the input of 3, and b and c, long there, through those of 4 and 7: y is there at 7.
    DelayModel pins = DelayModel.ofPins(7, 3, 4);
    assertThat(pins.times(two)).asList().containsExactly(0, 0, 0, 4, 7).inOrder();
    // c comes at 6 and takes the input of 3: 9. x, there at 4, takes that of 4: 8. b takes 7: 7.
    assertThat(pins.withArrivals(0, 0, 6).delay(two)).isEqualTo(9);
    // x and b have two readers, so they are 2 later. x: b at 2 through 3, a at 0 through 4: 5. y: x
    // at 7 through 3, b at 2 through 4, c at 0 through 7: 10. Output x is there at 7.
    DelayModel spread = pins.withFanOut(2);
    assertThat(spread.times(two)).asList().containsExactly(0, 0, 0, 5, 10).inOrder();
    assertThat(spread.delay(two)).isEqualTo(10);
    // x is needed 6 before y: at 7, it is as late as y would be at 13.
    assertThat(spread.withRequired(2, 8).delay(two)).isEqualTo(13);
    assertThat(spread.levels(two)).isEqualTo(2);
  }

  /** The longest path to a signal, by recursion over all ways to connect each LUT. */
  private static int longest(
      LutNetwork network, int signal, int[] pins, IntUnaryOperator arrival, IntUnaryOperator more) {
    int inputs = network.inputNames().size();
    if (signal < inputs) {
      return arrival.applyAsInt(signal);
    }
    List<Integer> fanIns = network.luts().get(signal - inputs).fanIns();
    int[] at =
        fanIns.stream()
            .mapToInt(s -> longest(network, s, pins, arrival, more) + more.applyAsInt(s))
            .toArray();
    return best(at, pins, 0, new boolean[pins.length], 0);
  }

  private static int best(int[] at, int[] pins, int next, boolean[] taken, int latest) {
    if (next == at.length) {
      return latest;
    }
    int best = Integer.MAX_VALUE;
    for (int pin = 0; pin < pins.length; pin++) {
      if (!taken[pin]) {
        taken[pin] = true;
        int here = Math.max(latest, at[next] + pins[pin]);
        best = Math.min(best, best(at, pins, next + 1, taken, here));
        taken[pin] = false;
      }
    }
    return best;
  }

  @Test
  void delay_randomNetworks_isThatOfThePathsOneByOne() {
    Random random = new Random(4);
    for (int i = 0; i < 60; i++) {
      LutNetwork network = RandomNetworks.of(random, 5, 9, 3);
      int[] pins = random.ints(4, 3, 12).toArray();
      int[] arrivals = random.ints(5, 0, 20).toArray();
      int[] required = random.ints(3, 0, 9).toArray();
      int fanOut = random.nextInt(3);
      DelayModel model =
          DelayModel.ofPins(pins).withFanOut(fanOut).withArrivals(arrivals).withRequired(required);
      List<Integer> read = new ArrayList<>();
      network.luts().forEach(lut -> read.addAll(lut.fanIns()));
      network.outputs().forEach(output -> read.add(output.signal()));
      IntUnaryOperator more =
          signal -> fanOut * (int) (read.stream().filter(s -> s == signal).count() - 1);
      int last = Math.max(required[0], Math.max(required[1], required[2]));
      int expected = 0;
      for (int o = 0; o < 3; o++) {
        int signal = network.outputs().get(o).signal();
        if (signal >= 0) {
          int path = longest(network, signal, pins, s -> arrivals[s], more);
          expected = Math.max(expected, path + more.applyAsInt(signal) + last - required[o]);
        }
      }
      assertWithMessage("%s %s", network, model).that(model.delay(network)).isEqualTo(expected);
      assertThat(DelayModel.ofPins(1).delay(network)).isEqualTo(network.levels());
    }
  }

  @Test
  void pinOrder_randomNetworks_isTheSameFunctionAndAsFastAsTheModelSays() {
    Random random = new Random(8);
    for (int i = 0; i < 60; i++) {
      LutNetwork network = RandomNetworks.of(random, 5, 9, 3);
      int[] pins = random.ints(4, 3, 12).toArray();
      DelayModel model = DelayModel.ofPins(pins).withArrivals(random.ints(5, 0, 20).toArray());
      List<LutNetwork.Lut> luts = PinOrder.of(network, model);
      int[] times = model.times(network);
      int inputs = network.inputNames().size();
      long[] words = random.longs(inputs).toArray();
      long[] signals = network.evaluateSignals(words);
      for (int lut = 0; lut < luts.size(); lut++) {
        List<Integer> fanIns = luts.get(lut).fanIns();
        assertThat(fanIns.stream().filter(s -> s >= 0).sorted().toList())
            .isEqualTo(network.luts().get(lut).fanIns());
        int latest = 0;
        for (int pin = 0; pin < fanIns.size(); pin++) {
          latest =
              fanIns.get(pin) < 0 ? latest : Math.max(latest, times[fanIns.get(pin)] + pins[pin]);
        }
        assertThat(latest).isEqualTo(times[inputs + lut]);
        for (int bit = 0; bit < 64; bit++) {
          int point = 0;
          for (int pin = 0; pin < fanIns.size(); pin++) {
            int signal = fanIns.get(pin);
            point |= signal < 0 ? 0 : (int) (signals[signal] >>> bit & 1) << pin;
          }
          assertThat(luts.get(lut).table().isOn(point))
              .isEqualTo((signals[inputs + lut] >>> bit & 1) != 0);
        }
      }
    }
  }

  @Test
  void pinOrder_pinsAlike_isTheNetworksOwn() {
    assertThat(PinOrder.of(two(), DelayModel.LEVELS)).isEqualTo(two().luts());
    // The late input takes the last pin, which is the fastest; x of two fan-ins passes over pin 0.
    DelayModel model = DelayModel.ofPins(9, 5, 3).withArrivals(4, 0, 0);
    assertThat(PinOrder.of(two(), model).get(0).fanIns())
        .containsExactly(LutNetwork.ZERO, 1, 0)
        .inOrder();
    assertThat(PinOrder.of(two(), model).get(0).table()).isEqualTo(TruthTable.parse("00000011"));
  }

  @Test
  void of_badValues_areRejected() {
    DelayModel levels = DelayModel.LEVELS;
    check(() -> DelayModel.ofPins(), "delays of pins are expected, found none");
    check(() -> DelayModel.ofPins(1, 0), "a pin must take [1, 1000000], found 0");
    check(() -> levels.withFanOut(-1), "a further reader must take [0, 1000000], found -1");
    check(() -> levels.withArrivals(0, -1), "an input must come at [0, 1000000], found -1");
    check(
        () -> levels.withRequired(1_000_001),
        "an output must be needed at [0, 1000000], found 1000001");
  }

  private static void check(Executable call, String message) {
    assertThat(assertThrows(IllegalArgumentException.class, call))
        .hasMessageThat()
        .isEqualTo("delay model: " + message);
  }
}

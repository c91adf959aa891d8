package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.network.RandomNetworks;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class TimingTest {

  private static final int INPUTS = 7;

  private static DelayModel model(Random random, int fanOut) {
    return DelayModel.ofPins(random.ints(4, 3, 12).toArray())
        .withFanOut(fanOut)
        .withArrivals(random.ints(INPUTS, 0, 20).toArray())
        .withRequired(random.ints(3, 0, 9).toArray());
  }

  private static List<TruthTable> tables(LutNetwork network) {
    return IntStream.range(0, network.outputs().size()).mapToObj(network::table).toList();
  }

  private static LutNetwork clean(EditableNetwork net, LutNetwork like) {
    return net.toNetwork(
        like.inputNames(), like.outputs().stream().map(LutNetwork.Output::name).toList());
  }

  @Test
  void of_randomNetworks_agreesWithTheFinishedNetworkAndItsSlack() {
    Random random = new Random(3);
    for (int i = 0; i < 40; i++) {
      LutNetwork network = RandomNetworks.of(random, INPUTS, 16, 3);
      DelayModel model = model(random, random.nextInt(3));
      EditableNetwork net = new EditableNetwork(network, tables(network), 0).timedBy(model);
      Timing timing = Timing.of(net);
      assertThat(timing.delay()).isEqualTo(model.delay(network));
      int[] times = model.times(network);
      boolean longest = false;
      for (int slot = 0; slot < network.luts().size(); slot++) {
        assertThat(timing.time(slot)).isEqualTo(times[INPUTS + slot]);
        assertThat(timing.time(slot) + timing.behind(slot)).isAtMost(timing.delay());
        longest |= timing.time(slot) + timing.behind(slot) == timing.delay();
      }
      assertThat(longest).isTrue();
    }
  }

  @Test
  void run_walksInBounds_neverAddLutsNorBreakWhatIsRequired() {
    Random random = new Random(5);
    int fewer = 0;
    for (int i = 0; i < 12; i++) {
      LutNetwork network = RandomNetworks.of(random, INPUTS, 16, 3);
      DelayModel model = model(random, i % 3);
      int before = model.delay(network);
      EditableNetwork net = new EditableNetwork(network, tables(network), 0).timedBy(model);
      new PlateauWalk(net, 4, before, new SplittableRandom(i)).run(400);
      LutNetwork after = clean(net, network);
      assertThat(tables(after)).isEqualTo(tables(network));
      assertThat(after.luts().size()).isAtMost(network.luts().size());
      assertThat(model.delay(after)).isAtMost(before);
      fewer += network.luts().size() - after.luts().size();
    }
    assertThat(fewer).isAtLeast(20);
  }

  /** A chain of ANDs of two inputs, a level each, the input at its start late. */
  private static LutNetwork chain() {
    List<String> names = IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList();
    LutNetworkBuilder builder = LutNetwork.builder(names);
    int last = 0;
    for (int i = 1; i < INPUTS; i++) {
      last = builder.lut(TruthTable.parse("0001"), last, i);
    }
    builder.output("y", last);
    return builder.build();
  }

  @Test
  void run_lateInputAtTheStartOfAChain_movesToItsEnd() {
    for (DelayModel model :
        List.of(
            DelayModel.LEVELS.withArrivals(4), DelayModel.ofPins(10, 10, 8, 6).withArrivals(40))) {
      LutNetwork chain = chain();
      EditableNetwork net = new EditableNetwork(chain, tables(chain), 12).timedBy(model);
      List<Integer> delays = new ArrayList<>(List.of(model.delay(chain)));
      Random random = new Random(1);
      while (new LevelReduction(net, 4, 50, random).run(200)) {
        LutNetwork lower = clean(net, chain);
        assertThat(model.delay(lower)).isAtMost(delays.get(delays.size() - 1) - model.step());
        delays.add(model.delay(lower));
      }
      LutNetwork lowest = clean(net, chain);
      assertThat(tables(lowest)).isEqualTo(tables(chain));
      // It is there after four levels and takes one LUT, by its fastest input.
      assertThat(model.delay(lowest)).isEqualTo(4 * model.level() + model.fastest());
      assertThat(lowest.luts().stream().filter(lut -> lut.fanIns().contains(0)).count())
          .isEqualTo(1);
    }
  }
}

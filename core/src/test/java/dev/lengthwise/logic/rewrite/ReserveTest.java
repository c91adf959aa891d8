package dev.lengthwise.logic.rewrite;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.google.common.collect.Range;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Walks that see 32 of 256 points of a function, with all points in reserve. */
class ReserveTest {

  private static final int INPUTS = 8;

  private static final List<TruthTable> WEIGHT =
      IntStream.range(0, 4)
          .mapToObj(bit -> TruthTable.of(INPUTS, p -> (Integer.bitCount(p) >> bit & 1) != 0))
          .toList();

  /** Counts ones by adding one input after the other. */
  private static LutNetwork counter() {
    LutNetworkBuilder builder =
        LutNetwork.builder(IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList());
    TruthTable both = TruthTable.of(2, p -> p == 3);
    TruthTable either = TruthTable.of(2, p -> p == 1 || p == 2);
    int[] count = new int[WEIGHT.size()];
    Arrays.fill(count, LutNetwork.ZERO);
    for (int i = 0; i < INPUTS; i++) {
      int carried = i;
      for (int bit = 0; bit < count.length; bit++) {
        int old = count[bit];
        count[bit] = builder.lut(either, old, carried);
        carried = builder.lut(both, old, carried);
      }
    }
    for (int bit = 0; bit < count.length; bit++) {
      builder.output("c" + bit, count[bit]);
    }
    return builder.build();
  }

  /** Returns every eighth point in the first columns, of four words. */
  private static SpecifiedPoints some() {
    SpecifiedPoints all = SpecifiedPoints.of(WEIGHT);
    return new SpecifiedPoints(some(all.inputs()), some(all.on()), some(all.care()), 32);
  }

  private static long[][] some(long[][] all) {
    long[][] result = new long[all.length][4];
    for (int signal = 0; signal < all.length; signal++) {
      for (int column = 0; column < 32; column++) {
        int point = 8 * column + column % 8;
        result[signal][0] |= (all[signal][point >> 6] >>> point & 1) << column;
      }
    }
    return result;
  }

  private static EditableNetwork walked(Optional<SpecifiedPoints> reserve) {
    EditableNetwork net = new EditableNetwork(counter(), some(), reserve, 4);
    PlateauWalk walk = new PlateauWalk(net, 4, 8, new SplittableRandom(3));
    walk.duplicate(2);
    walk.run(3_000);
    return net;
  }

  private static boolean isCounter(EditableNetwork net) {
    LutNetwork network =
        net.toNetwork(
            counter().inputNames(), counter().outputs().stream().map(o -> o.name()).toList());
    return new EditableNetwork(network, WEIGHT, 0).isRight();
  }

  @Test
  void walk_withAllPointsInReserve_staysTheFunctionAndLearns() {
    EditableNetwork net = walked(Optional.of(SpecifiedPoints.of(WEIGHT)));
    assertThat(isCounter(net)).isTrue();
    assertThat(net.size()).isLessThan(counter().luts().size());
    // Of four words of points, 32 are taken from the start.
    assertThat(net.learned().length).isIn(Range.closed(1, 256 - 32));
    assertThat(Arrays.stream(net.learned()).allMatch(p -> p >= 0 && p < 256)).isTrue();
  }

  @Test
  void walk_withoutReserve_isRightAtThePointsSeenOnly() {
    EditableNetwork net = walked(Optional.empty());
    assertThat(net.isRight()).isTrue();
    assertThat(isCounter(net)).isFalse();
    assertThat(net.learned()).isEmpty();
  }

  @Test
  void reserve_networkThatIsWrongThere_isRefused() {
    List<TruthTable> other =
        WEIGHT.stream().map(t -> TruthTable.of(INPUTS, p -> t.isOn(p ^ (p == 9 ? 1 : 0)))).toList();
    Optional<SpecifiedPoints> reserve = Optional.of(SpecifiedPoints.of(other));
    assertThat(
            assertThrows(
                IllegalStateException.class,
                () -> new EditableNetwork(counter(), some(), reserve, 0)))
        .hasMessageThat()
        .isEqualTo("reserve: the network must be right at every point, found a wrong one at 9");
  }
}

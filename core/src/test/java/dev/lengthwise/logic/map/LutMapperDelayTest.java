package dev.lengthwise.logic.map;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.testing.Slow;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

@Slow
class LutMapperDelayTest {

  private static final int INPUTS = 5;

  private static TruthTables random(int seed) {
    Random random = new Random(seed);
    return TruthTables.of(List.of(TruthTable.of(INPUTS, p -> random.nextBoolean())));
  }

  @Test
  void map_oneInputLate_endsNearTheOutput() {
    TruthTables function = random(1);
    DelayModel late = DelayModel.LEVELS.withArrivals(0, 0, 3);
    LutNetwork network =
        LutMapper.forInputs(4).withObjective(Objective.DEPTH).withDelays(late).map(function);
    // Two functions of four inputs take a level, and one LUT chooses between them.
    assertThat(late.delay(network)).isEqualTo(4);
    assertThat(network.table(0)).isEqualTo(function.outputs().get(0));
  }

  /** A network of more LUTs than it needs. */
  private static LutNetwork wasteful(Random random) {
    List<String> names = IntStream.range(0, INPUTS).mapToObj(i -> "x" + i).toList();
    LutNetworkBuilder builder = LutNetwork.builder(names);
    for (int i = 0; i < 14; i++) {
      int[] signals =
          random.ints(0, builder.signals()).distinct().limit(2 + random.nextInt(2)).toArray();
      long table = random.nextLong();
      builder.lut(TruthTable.of(signals.length, p -> (table >>> p & 1) != 0), signals);
    }
    builder.output("y", builder.signals() - 1);
    builder.output("z", builder.signals() - 2);
    return builder.build();
  }

  @Test
  void recover_pinsFanOutAndRequiredTimes_keepsThemAndSavesLuts() {
    Random random = new Random(2);
    LutNetwork network = wasteful(random);
    List<TruthTable> tables = List.of(network.table(0), network.table(1));
    TruthTables function = TruthTables.of(network.inputNames(), List.of("y", "z"), tables);
    DelayModel delays =
        DelayModel.ofPins(9, 8, 8, 6).withFanOut(1).withArrivals(0, 12, 5).withRequired(40, 30);
    LutNetwork smaller = LutMapper.forInputs(4).withDelays(delays).recover(function, network);
    assertThat(smaller.luts().size()).isLessThan(network.luts().size());
    assertThat(delays.delay(smaller)).isAtMost(delays.delay(network));
    assertThat(List.of(smaller.table(0), smaller.table(1))).isEqualTo(tables);
  }

  @Test
  void recover_anotherFunction_isRejected() {
    LutNetwork network = wasteful(new Random(3));
    TruthTable wrong = TruthTable.of(INPUTS, p -> !network.table(0).isOn(p));
    TruthTables function =
        TruthTables.of(network.inputNames(), List.of("y", "z"), List.of(wrong, wrong));
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> LutMapper.forInputs(4).recover(function, network)))
        .hasMessageThat()
        .isEqualTo("lut mapper: the gates must be the function, found another one");
  }
}

package dev.lengthwise.logic.map;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.ReferenceLane;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.gates.Restructuring;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.IntPredicate;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@Slow
class LutMapperTest {

  /**
   * A function with what we must reach.
   *
   * @param six LUTs of 6 inputs: the proved minimum unless said otherwise
   * @param four LUTs of 4 inputs, likewise
   */
  record Case(String name, TruthTables function, int six, int four) {
    @Override
    public String toString() {
      return name;
    }
  }

  private static int ones(int point) {
    return Integer.bitCount(point);
  }

  private static Case one(String name, int inputs, IntPredicate on, int six, int four) {
    return new Case(name, TruthTables.of(List.of(TruthTable.of(inputs, on))), six, four);
  }

  private static Case weight(String name, int inputs, int bits, int six, int four) {
    List<TruthTable> outputs = new ArrayList<>();
    for (int bit = 0; bit < bits; bit++) {
      int shift = bit;
      outputs.add(TruthTable.of(inputs, p -> (ones(p) >> shift & 1) != 0));
    }
    return new Case(name, TruthTables.of(outputs), six, four);
  }

  /**
   * Single outputs: minima by exhaustive SAT search over every wiring, or by the bound
   * ceil((n-1)/(K-1)) met; several outputs: known constructions. Recomputed by us. The four-input
   * figures of maj7, maj9, 9sym, w1of8, w2of8, onehot8, mod3 and of several outputs are what we
   * reach, no minimum is known to us.
   */
  private static List<Case> allCases() {
    return List.of(
        one("parity8", 8, p -> ones(p) % 2 != 0, 2, 3),
        one("equal2", 4, p -> (p & 3) == p >> 2, 1, 1),
        one("equal3", 6, p -> (p & 7) == p >> 3, 1, 2),
        one("equal4", 8, p -> (p & 15) == p >> 4, 2, 3),
        one("greater3", 6, p -> (p & 7) > p >> 3, 1, 2),
        one("greater4", 8, p -> (p & 15) > p >> 4, 2, 3),
        one("mux4", 6, p -> (p >> (p >> 4) & 1) != 0, 1, 2),
        one("mux8", 11, p -> (p >> (p >> 8) & 1) != 0, 3, 5),
        one("majority5", 5, p -> ones(p) >= 3, 1, 3),
        one("majority7", 7, p -> ones(p) >= 4, 3, 5),
        one("majority9", 9, p -> ones(p) >= 5, 4, 9),
        one("weight 1 of 5", 5, p -> (ones(p) & 2) != 0, 1, 3),
        one("weight 1 of 6", 6, p -> (ones(p) & 2) != 0, 1, 3),
        one("weight 1 of 7", 7, p -> (ones(p) & 2) != 0, 3, 4),
        one("weight 1 of 8", 8, p -> (ones(p) & 2) != 0, 3, 5),
        one("weight 2 of 5", 5, p -> (ones(p) & 4) != 0, 1, 3),
        one("weight 2 of 6", 6, p -> (ones(p) & 4) != 0, 1, 3),
        one("weight 2 of 7", 7, p -> (ones(p) & 4) != 0, 3, 5),
        one("weight 2 of 8", 8, p -> (ones(p) & 4) != 0, 3, 7),
        one("and8", 8, p -> p == 255, 2, 3),
        one("one hot of 8", 8, p -> ones(p) == 1, 3, 5),
        one("at most one of 8", 8, p -> ones(p) <= 1, 3, 5),
        one("two of 8", 8, p -> ones(p) == 2, 3, 5),
        one("weight mod 3 of 8", 8, p -> ones(p) % 3 == 0, 3, 5),
        one("9sym", 9, p -> ones(p) >= 3 && ones(p) <= 6, 4, 9),
        weight("rd53", 5, 3, 3, 5),
        weight("6:3 counter", 6, 3, 3, 5),
        weight("rd73", 7, 3, 5, 7),
        weight("rd84", 8, 4, 6, 10));
  }

  /**
   * Every third in a build: a parity, comparisons, counters and symmetric functions, but not that
   * of nine inputs, which takes as long as all the others.
   */
  static List<Case> cases() {
    return Extent.oneOf(3, allCases()).stream()
        .filter(each -> Extent.isWhole() || each.function().inputs() != 9)
        .toList();
  }

  @ParameterizedTest
  @MethodSource("cases")
  void map_thoroughIfQuickDoesNot_reachesTheFigure(Case each) {
    for (int lutInputs : new int[] {6, 4}) {
      int most = lutInputs == 6 ? each.six() : each.four();
      LutMapper mapper = LutMapper.forInputs(lutInputs);
      LutNetwork network = mapper.withEffort(Effort.QUICK).map(each.function());
      if (network.luts().size() > most) {
        network = mapper.withEffort(Effort.THOROUGH).map(each.function());
      }
      assertThat(Equivalence.check(network, each.function()).proved()).isTrue();
      assertThat(network.mostFanIns()).isAtMost(lutInputs);
      System.out.printf("%s K=%d: %s%n", each, lutInputs, network);
      assertWithMessage("%s, K = %s", each, lutInputs).that(network.luts().size()).isAtMost(most);
    }
  }

  @Test
  void map_rom256x1_takesAtMostFiveLutsAndTwoLevels() {
    // Common practice, no source: four 64-bit LUTs and the multiplexer after them.
    TruthTables rom = TruthTables.of(List.of(TruthTable.of(8, p -> ones(p * 0x9e3779b9) % 3 == 1)));
    LutNetwork network = LutMapper.forInputs(6).withObjective(Objective.DEPTH).map(rom);
    assertThat(network.luts().size()).isAtMost(5);
    assertThat(network.levels()).isEqualTo(2);
  }

  @Test
  void map_twice_givesEqualNetworksAndRisingProgress() {
    TruthTables function = ReferenceLane.map(1);
    List<Double> shares = new ArrayList<>();
    LutNetwork first = LutMapper.forInputs(6).withSeed(7).withProgress(shares::add).map(function);
    assertThat(LutMapper.forInputs(6).withSeed(7).map(function)).isEqualTo(first);
    assertThat(shares).isInStrictOrder();
    assertThat(shares.get(shares.size() - 1)).isEqualTo(1.0);
  }

  /** A multiplier of three by three bits: rows of full adders under partial products. */
  private static LutNetwork multiplier(int outputs) {
    LutNetworkBuilder gates = LutNetwork.builder(List.of("x0", "x1", "x2", "x3", "x4", "x5"));
    TruthTable sum = TruthTable.of(3, p -> ones(p) % 2 != 0);
    TruthTable carry = TruthTable.of(3, p -> ones(p) >= 2);
    int[] total = new int[6];
    Arrays.fill(total, LutNetwork.ZERO);
    for (int row = 0; row < 3; row++) {
      int carried = LutNetwork.ZERO;
      for (int column = 0; column < 3; column++) {
        int bit = gates.lut(TruthTable.of(2, p -> p == 3), column, 3 + row);
        int before = total[row + column];
        total[row + column] = gates.lut(sum, bit, before, carried);
        carried = gates.lut(carry, bit, before, carried);
      }
      total[row + 3] = carried;
    }
    for (int o = 0; o < outputs; o++) {
      gates.output("y" + o, total[o]);
    }
    return gates.build();
  }

  private static TruthTables products(int add) {
    List<TruthTable> outputs = new ArrayList<>();
    for (int bit = 0; bit < 6; bit++) {
      int shift = bit;
      outputs.add(TruthTable.of(6, p -> ((p & 7) * (p >> 3) + add >> shift & 1) != 0));
    }
    return TruthTables.of(outputs);
  }

  @Test
  void map_gatesGiven_noMoreLutsThanTheGatesCovered() {
    LutMapper mapper = LutMapper.forInputs(4).withGates(multiplier(6));
    LutNetwork network = mapper.map(products(0));
    assertThat(Equivalence.check(network, products(0)).proved()).isTrue();
    int covered = Restructuring.forInputs(4).map(multiplier(6)).luts().size();
    assertThat(network.luts().size()).isAtMost(covered);
  }

  @Test
  void map_gatesOfAnotherFunction_isRefused() {
    LutMapper mapper = LutMapper.forInputs(4).withGates(multiplier(6));
    assertThat(assertThrows(IllegalArgumentException.class, () -> mapper.map(products(1))))
        .hasMessageThat()
        .isEqualTo("lut mapper: the gates must be the function, found another one");
    LutMapper fewer = LutMapper.forInputs(4).withGates(multiplier(5));
    assertThat(assertThrows(IllegalArgumentException.class, () -> fewer.map(products(0))))
        .hasMessageThat()
        .isEqualTo(
            "lut mapper: gates of the inputs [x0, x1, x2, x3, x4, x5] and 6 outputs are expected,"
                + " found [x0, x1, x2, x3, x4, x5] and 5");
  }

  @Test
  void mapFor_someSeconds_isNoWorseThanMapAndSaysWhatItTried() {
    LutMapper mapper = LutMapper.forInputs(4);
    List<Double> shares = new ArrayList<>();
    TimedMapping timed =
        mapper.withProgress(shares::add).mapFor(products(0), Duration.ofSeconds(5));
    assertThat(Equivalence.check(timed.network(), products(0)).proved()).isTrue();
    int quick = mapper.map(products(0)).luts().size();
    assertThat(timed.network().luts().size()).isAtMost(quick);
    assertThat(timed.account().get(0)).startsWith("first: " + quick + " LUTs");
    assertThat(timed.account().get(timed.account().size() - 1))
        .matches("[0-9]+ rounds from the best and [0-9]+ of new starts, until .*");
    assertThat(timed.interrupted()).isFalse();
    assertThat(shares).isInStrictOrder();
    assertThat(shares.get(shares.size() - 1)).isEqualTo(1.0);
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> mapper.mapFor(products(0), Duration.ZERO)))
        .hasMessageThat()
        .isEqualTo("lut mapper: the time must be above 0, found PT0S");
  }

  @Test
  void mapFor_interruptedAfterTheFirstNetwork_returnsTheBestSoFar() throws InterruptedException {
    AtomicReference<TimedMapping> found = new AtomicReference<>();
    AtomicBoolean flag = new AtomicBoolean();
    CountDownLatch first = new CountDownLatch(1);
    LutMapper mapper = LutMapper.forInputs(4).withProgress(share -> first.countDown());
    Thread thread =
        new Thread(
            () -> {
              found.set(mapper.mapFor(products(0), Duration.ofSeconds(Long.MAX_VALUE)));
              flag.set(Thread.currentThread().isInterrupted());
            });
    thread.start();
    first.await();
    Thread.sleep(500);
    thread.interrupt();
    thread.join();
    assertThat(found.get().interrupted()).isTrue();
    assertThat(flag.get()).isTrue();
    assertThat(Equivalence.check(found.get().network(), products(0)).proved()).isTrue();
  }

  @Test
  void front_counterOfEightOnes_fewerLevelsForMoreLuts() {
    TruthTables counter = weight("rd84", 8, 4, 6, 10).function();
    List<LutNetwork> front = LutMapper.forInputs(4).front(counter);
    assertThat(front.size()).isAtLeast(2);
    for (int i = 0; i < front.size(); i++) {
      assertThat(Equivalence.check(front.get(i), counter).proved()).isTrue();
      if (i > 0) {
        assertThat(front.get(i).levels()).isLessThan(front.get(i - 1).levels());
        assertThat(front.get(i).luts().size()).isGreaterThan(front.get(i - 1).luts().size());
      }
    }
  }

  @Test
  void map_moreThan64Outputs_areRight() {
    List<TruthTable> outputs = new ArrayList<>();
    for (int code = 0; code < 70; code++) {
      int own = code;
      outputs.add(TruthTable.of(7, p -> p == own));
    }
    TruthTables decoder = TruthTables.of(outputs);
    LutNetwork network = LutMapper.forInputs(6).map(decoder);
    assertThat(Equivalence.check(network, decoder).proved()).isTrue();
    // A LUT for each output, and some that outputs share.
    assertThat(network.luts().size()).isAtMost(70 + 70 / 2);
  }

  @Test
  void map_constantsAndBuffers_takeNoLut() {
    TruthTables function =
        TruthTables.of(
            List.of(
                TruthTable.of(8, p -> true, p -> p > 9),
                TruthTable.of(8, p -> (p & 4) != 0),
                TruthTable.of(8, p -> false)));
    LutNetwork network = LutMapper.forInputs(4).map(function);
    assertThat(network.toString()).isEqualTo("8 inputs, 0 LUTs, 0 levels, 3 outputs");
  }

  @Test
  void forInputs_pastBounds_saysRange() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> LutMapper.forInputs(9)))
        .hasMessageThat()
        .isEqualTo("lut mapper: the inputs of a lut must be in [3, 8], found 9");
  }
}

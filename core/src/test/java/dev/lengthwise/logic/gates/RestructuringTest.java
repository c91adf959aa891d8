package dev.lengthwise.logic.gates;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.google.common.collect.Range;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.logic.proof.Proof;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.function.IntPredicate;
import java.util.function.IntUnaryOperator;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RestructuringTest {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable XNOR = TruthTable.parse("1001");
  private static final TruthTable XOR = TruthTable.parse("0110");
  private static final TruthTable MAJORITY = TruthTable.parse("00010111");
  private static final TruthTable MUX = TruthTable.parse("01010011");

  private static List<String> names(int count) {
    return IntStream.range(0, count).mapToObj(i -> "x" + i).toList();
  }

  /** A chain, so that levels have to be won. */
  private static LutNetwork equality(int bits) {
    LutNetworkBuilder builder = LutNetwork.builder(names(2 * bits));
    int same = LutNetwork.ONE;
    for (int i = 0; i < bits; i++) {
      same = builder.lut(AND, same, builder.lut(XNOR, i, bits + i));
    }
    return builder.output("y", same).build();
  }

  /** The same as a balanced tree. */
  private static LutNetwork tree(int bits) {
    LutNetworkBuilder builder = LutNetwork.builder(names(2 * bits));
    List<Integer> row = new ArrayList<>();
    for (int i = 0; i < bits; i++) {
      row.add(builder.lut(XNOR, i, bits + i));
    }
    while (row.size() > 1) {
      List<Integer> next = new ArrayList<>();
      for (int i = 0; i + 1 < row.size(); i += 2) {
        next.add(builder.lut(AND, row.get(i), row.get(i + 1)));
      }
      if (row.size() % 2 != 0) {
        next.add(row.get(row.size() - 1));
      }
      row = next;
    }
    return builder.output("y", row.get(0)).build();
  }

  private static LutNetwork adder(int bits) {
    LutNetworkBuilder builder = LutNetwork.builder(names(2 * bits));
    int carry = LutNetwork.ZERO;
    for (int i = 0; i < bits; i++) {
      int half = builder.lut(XOR, i, bits + i);
      builder.output("s" + i, builder.lut(XOR, half, carry));
      carry = builder.lut(MAJORITY, i, bits + i, carry);
    }
    return builder.output("carry", carry).build();
  }

  /**
   * Draws gates of two and three inputs and of one kind more, {@code null} for tables drawn too.
   */
  private static LutNetwork random(Random random, int size, @Nullable TruthTable kind) {
    LutNetworkBuilder builder = LutNetwork.builder(names(16));
    List<Integer> signals = new ArrayList<>(IntStream.range(0, 16).boxed().toList());
    while (signals.size() < size) {
      TruthTable wide =
          kind != null ? kind : TruthTable.of(1 + random.nextInt(7), point -> random.nextBoolean());
      TruthTable[] gates = {AND, XOR, MAJORITY, MUX, wide};
      TruthTable gate = gates[random.nextInt(gates.length)];
      int[] fanIns =
          random
              .ints(0, Math.min(24, signals.size()))
              .distinct()
              .limit(gate.inputs())
              .map(back -> signals.get(signals.size() - 1 - back))
              .toArray();
      int signal = builder.lut(gate, fanIns);
      if (!signals.contains(signal) && signal >= 0) {
        signals.add(signal);
      }
    }
    for (int i = 0; i < 12; i++) {
      builder.output("y" + i, signals.get(signals.size() - 1 - i));
    }
    int last = signals.get(signals.size() - 1);
    builder.output("not", builder.lut(TruthTable.parse("10"), last));
    return builder.output("one", LutNetwork.ONE).output("in", 3).build();
  }

  private static TruthTables tables(
      int inputs, int outputs, IntUnaryOperator function, IntPredicate care) {
    return TruthTables.of(
        IntStream.range(0, outputs)
            .mapToObj(
                o ->
                    TruthTable.of(
                        inputs, point -> (function.applyAsInt(point) >> o & 1) != 0, care))
            .toList());
  }

  /** Common practice, no source: 40 inputs need ceil(log6 40) = 3 levels of six-input LUTs. */
  @Test
  void map_chainOfTwentyBitEquality_takesThreeLevels() {
    LutNetwork gates = equality(20);
    LutNetwork mapped = Restructuring.forInputs(6).withObjective(Objective.DEPTH).map(gates);
    assertThat(mapped.levels()).isEqualTo(3);
    // A tree of six-input LUTs over 40 inputs takes (40 - 1) / 5, rounded up: eight.
    assertThat(mapped.luts().size()).isIn(Range.closed(8, 12));
    Proof proof = Equivalence.check(mapped, gates, 100_000);
    assertThat(proof.method()).isEqualTo("satisfiability");
    assertThat(proof.proved()).isTrue();
  }

  @Test
  void map_randomGates_areTheFunction() {
    Random random = new Random(11);
    for (int run = 0; run < 3; run++) {
      LutNetwork gates = random(random, 50, null);
      int lutInputs = 4 + 2 * run;
      for (Objective objective : Objective.values()) {
        Restructuring restructuring = Restructuring.forInputs(lutInputs).withObjective(objective);
        LutNetwork mapped = restructuring.map(gates);
        assertThat(Equivalence.check(mapped, gates, 1).detail())
            .isEqualTo("agrees at all 65536 points");
        assertThat(mapped.mostFanIns()).isAtMost(lutInputs);
        assertThat(mapped.outputs().stream().map(LutNetwork.Output::name).toList())
            .isEqualTo(gates.outputs().stream().map(LutNetwork.Output::name).toList());
        assertThat(restructuring.map(gates)).isEqualTo(mapped);
      }
    }
  }

  /**
   * The levels are those of the network returned, and no more than the gates have as they stand.
   */
  @Test
  void map_smallRandomGates_areTheFunctionInTheLeastLevelsAndFewerLuts() {
    Random random = new Random(11);
    for (int run = 0; run < 8; run++) {
      LutNetwork gates = random(random, 160, MUX);
      Restructuring six = Restructuring.forInputs(6).withObjective(Objective.DEPTH);
      LutNetwork mapped = six.map(gates);
      assertThat(Equivalence.check(mapped, gates, 1_000_000).proved()).isTrue();
      assertThat(mapped.mostFanIns()).isAtMost(6);
      int least = Arrays.stream(six.levelsOf(gates)).max().orElseThrow();
      assertThat(mapped.levels()).isAtMost(least);
      assertThat(mapped.luts().size()).isLessThan(gates.luts().size());
    }
  }

  /** A carry that ripples through 16 bits has 16 levels of three-input gates. */
  @Test
  void map_adderOfSixteenBits_isTheSumInFewLevelsAndWithinABoundInFewLuts() {
    LutNetwork gates = adder(16);
    Restructuring restructuring = Restructuring.forInputs(6);
    LutNetwork flat = restructuring.withObjective(Objective.DEPTH).map(gates);
    LutNetwork small = restructuring.map(gates);
    LutNetwork bound = restructuring.withMostDelay(6).map(gates);
    for (LutNetwork mapped : List.of(flat, small, bound)) {
      assertThat(Equivalence.check(mapped, gates, 100_000).proved()).isTrue();
    }
    assertThat(flat.levels()).isAtMost(6);
    assertThat(small.luts().size()).isAtMost(31);
    assertThat(bound.levels()).isAtMost(6);
    assertThat(bound.luts().size()).isAtMost(flat.luts().size());
  }

  @Test
  void map_adderOfTwelveBits_isTheSum() {
    LutNetwork mapped = Restructuring.forInputs(6).withObjective(Objective.DEPTH).map(adder(12));
    Proof proof =
        Equivalence.check(
            mapped,
            x -> {
              long[] result = new long[26];
              long carry = 0;
              for (int i = 0; i < 12; i++) {
                result[i] = x[i] ^ x[12 + i] ^ carry;
                carry = (x[i] & x[12 + i]) | (carry & (x[i] ^ x[12 + i]));
                result[13 + i] = -1L;
              }
              result[12] = carry;
              result[25] = -1L;
              return result;
            });
    assertThat(proof.detail()).isEqualTo("agrees at all 16777216 points");
    assertThat(mapped.luts().size()).isAtMost(36);
    assertThat(mapped.levels()).isAtMost(6);
  }

  @Test
  void map_wrongNetwork_isRefuted() {
    LutNetwork gates = equality(16);
    LutNetwork mapped = Restructuring.forInputs(6).map(gates);
    LutNetworkBuilder broken = mapped.toBuilder();
    int output = mapped.outputs().get(0).signal();
    LutNetwork wrong = broken.output("z", broken.lut(TruthTable.parse("10"), output)).build();
    LutNetwork twice = gates.toBuilder().output("z", gates.outputs().get(0).signal()).build();
    Proof proof = Equivalence.check(wrong, twice, 100_000);
    assertThat(proof.proved()).isFalse();
    assertThat(proof.detail()).startsWith("output z is wrong at point ");
  }

  /** By hand: three pairs of bits a LUT, so 20 bits take seven, two and one. */
  @Test
  void levelsOf_equalityOfTwentyBits_areThreeAndGoOnFromArrivals() {
    LutNetwork gates = tree(20);
    Restructuring six = Restructuring.forInputs(6);
    assertThat(six.levelsOf(gates)).asList().containsExactly(3);
    int[] late = new int[40];
    late[7] = 2;
    assertThat(six.withArrivals(late).levelsOf(gates)[0]).isAtLeast(3);
    late[7] = 9;
    // Behind the late bit is a tree of five gates; they and its pair read seven signals: two LUTs.
    assertThat(six.withArrivals(late).levelsOf(gates)).asList().containsExactly(11);
  }

  /** By hand: what comes last passes one LUT; the rest of 40 inputs is there after three. */
  @Test
  void map_oneInputLate_passesOneLut() {
    LutNetwork gates = equality(20);
    int[] arrivals = new int[40];
    arrivals[7] = 9;
    LutNetwork mapped =
        Restructuring.forInputs(6).withObjective(Objective.DEPTH).withArrivals(arrivals).map(gates);
    assertThat(Equivalence.check(mapped, gates, 100_000).proved()).isTrue();
    List<LutNetwork.Lut> readers =
        mapped.luts().stream().filter(lut -> lut.fanIns().contains(7)).toList();
    assertThat(readers).containsExactly(mapped.luts().get(mapped.outputs().get(0).signal() - 40));
  }

  /** Two LUTs a bit are enough for a sum of four-input LUTs, less one: common practice. */
  @Test
  void map_tableOfASum_isNoMoreThanTwoLutsABit() {
    TruthTables sum = tables(12, 7, p -> (p & 63) + (p >> 6), p -> true);
    LutNetwork mapped = Restructuring.forInputs(4).map(sum);
    assertThat(Equivalence.check(mapped, sum).proved()).isTrue();
    assertThat(mapped.luts().size()).isAtMost(11);
  }

  /** Eight data and three selects: two four-way multiplexers, and one LUT of both and a select. */
  /**
   * Each of 32 outputs takes a LUT of its own of two inputs' four products and three inputs: common
   * practice, no source. None of them alone is better off with the products.
   */
  @Test
  void map_tableOfADecoder_sharesTheProductsOfTwoInputs() {
    TruthTables decoder =
        TruthTables.of(
            IntStream.range(0, 32).mapToObj(o -> TruthTable.of(5, point -> point == o)).toList());
    LutNetwork mapped = Restructuring.forInputs(4).map(decoder);
    assertThat(mapped.luts()).hasSize(32 + 4);
    assertThat(Equivalence.check(mapped, decoder).proved()).isTrue();
  }

  @Test
  void map_tableOfAMultiplexer_isThreeLuts() {
    TruthTables mux = tables(11, 1, p -> p >> 3 >> (p & 7) & 1, p -> true);
    LutNetwork mapped = Restructuring.forInputs(6).map(mux);
    assertThat(Equivalence.check(mapped, mux).proved()).isTrue();
    assertThat(mapped.luts().size()).isEqualTo(3);
    assertThat(mapped.levels()).isEqualTo(2);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 3, 5, 6, 7, 8, 9})
  void map_randomTablesWithFreePoints_agreeWhereItMatters(int inputs) {
    Random random = new Random(inputs);
    int[] word = random.ints(1 << inputs).toArray();
    int[] care = random.ints(1 << inputs, 0, 3).toArray();
    TruthTables tables = tables(inputs, 5, p -> word[p], p -> care[p] == 0);
    TruthTables full = tables(inputs, 5, p -> word[p], p -> true);
    LutNetwork mapped = Restructuring.forInputs(4).map(tables);
    LutNetwork all = Restructuring.forInputs(4).map(full);
    assertThat(Equivalence.check(mapped, tables).proved()).isTrue();
    assertThat(Equivalence.check(all, full).proved()).isTrue();
    assertThat(mapped.luts().size()).isAtMost(all.luts().size());
  }

  @Test
  void with_badValues_areRejected() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> Restructuring.forInputs(2)))
        .hasMessageThat()
        .isEqualTo("restructuring: the inputs of a lut must be in [3, 8], found 2");
    Restructuring six = Restructuring.forInputs(6);
    assertThat(assertThrows(IllegalArgumentException.class, () -> six.withMostDelay(0)))
        .hasMessageThat()
        .isEqualTo("restructuring: the most delay must be at least 1, found 0");
    assertThat(assertThrows(IllegalArgumentException.class, () -> six.withArrivals(0, -1)))
        .hasMessageThat()
        .isEqualTo("restructuring: an input must come at a level of at least 0, found -1");
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> six.withArrivals(1).map(equality(2))))
        .hasMessageThat()
        .isEqualTo("restructuring: an arrival for each of 4 inputs is expected, found 1");
  }
}

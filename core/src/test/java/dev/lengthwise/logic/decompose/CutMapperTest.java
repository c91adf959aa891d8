package dev.lengthwise.logic.decompose;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.logic.proof.Proof;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class CutMapperTest {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable XNOR = TruthTable.parse("1001");
  private static final TruthTable XOR = TruthTable.parse("0110");
  private static final TruthTable MAJORITY = TruthTable.parse("00010111");

  private static List<String> names(int count) {
    return IntStream.range(0, count).mapToObj(i -> "x" + i).toList();
  }

  private static LutNetwork equality(int bits) {
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

  @Test
  void map_twentyBitEquality_takesThreeLevels() {
    // Common practice, no source: 40 inputs need ceil(log6 40) = 3 levels of six-input LUTs.
    LutNetwork gates = equality(20);
    LutNetwork mapped = CutMapper.map(gates, 6);
    assertThat(mapped.levels()).isEqualTo(3);
    assertThat(mapped.mostFanIns()).isAtMost(6);
    Proof proof = Equivalence.check(mapped, gates, 100_000);
    assertThat(proof.method()).isEqualTo("satisfiability");
    assertThat(proof.proved()).isTrue();
  }

  @Test
  void map_adder_isTheSum() {
    LutNetwork mapped = CutMapper.map(adder(12), 6);
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
    LutNetworkBuilder broken = gates.toBuilder();
    int output = gates.outputs().get(0).signal();
    LutNetwork wrong = broken.output("z", broken.lut(TruthTable.parse("10"), output)).build();
    LutNetwork twice = gates.toBuilder().output("z", output).build();
    Proof proof = Equivalence.check(wrong, twice, 100_000);
    assertThat(proof.proved()).isFalse();
    assertThat(proof.detail()).startsWith("output z is wrong at point ");
  }

  @Test
  void map_gateWiderThanALut_isRejected() {
    LutNetworkBuilder builder = LutNetwork.builder(names(4));
    LutNetwork gates =
        builder.output("y", builder.lut(TruthTable.of(4, p -> p == 15), 0, 1, 2, 3)).build();
    assertThat(assertThrows(IllegalArgumentException.class, () -> CutMapper.map(gates, 3)))
        .hasMessageThat()
        .isEqualTo(
            "cut mapper: the inputs of a lut must be in [3, 8] and no fewer than a gate's,"
                + " found 3 and a gate of 4");
  }

  /** By hand: three pairs of bits a LUT, so 20 bits take seven, two and one. */
  @Test
  void levels_equalityOfTwentyBits_areThreeAndGoOnFromArrivals() {
    LutNetwork gates = equality(20);
    assertThat(CutMapper.levels(gates, 6, new int[40])).asList().containsExactly(3);
    int[] late = new int[40];
    late[7] = 2;
    assertThat(CutMapper.levels(gates, 6, late)[0]).isAtLeast(3);
    late[7] = 9;
    // Behind the late bit is a tree of five gates; they and its pair read seven signals: two LUTs.
    assertThat(CutMapper.levels(gates, 6, late)).asList().containsExactly(11);
    IllegalArgumentException few =
        assertThrows(IllegalArgumentException.class, () -> CutMapper.levels(gates, 6, new int[39]));
    assertThat(few)
        .hasMessageThat()
        .isEqualTo("cut mapper: an arrival for each of 40 inputs is expected, found 39");
  }

  /** The levels of a mapping are those of the network that it returns, and least for the gates. */
  @Test
  void map_randomGates_areTheFunctionInTheLeastLevels() {
    Random random = new Random(11);
    for (int run = 0; run < 8; run++) {
      LutNetworkBuilder builder = LutNetwork.builder(names(16));
      List<Integer> signals = new ArrayList<>(IntStream.range(0, 16).boxed().toList());
      TruthTable[] gates = {AND, XOR, MAJORITY, TruthTable.parse("01010011")};
      while (signals.size() < 160) {
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
      LutNetwork network = builder.build();
      LutNetwork mapped = CutMapper.map(network, 6);
      assertThat(Equivalence.check(mapped, network, 1_000_000).proved()).isTrue();
      assertThat(mapped.mostFanIns()).isAtMost(6);
      int least = Arrays.stream(CutMapper.levels(network, 6, new int[16])).max().orElseThrow();
      assertThat(mapped.levels()).isAtMost(least);
      assertThat(mapped.luts().size()).isLessThan(network.luts().size());
    }
  }
}

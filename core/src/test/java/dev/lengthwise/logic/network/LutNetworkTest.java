package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.function.TruthTable;
import java.util.List;
import org.junit.jupiter.api.Test;

class LutNetworkTest {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable NAND = TruthTable.parse("1110");
  private static final TruthTable XOR = TruthTable.parse("0110");
  private static final TruthTable NOT = TruthTable.parse("10");

  private final LutNetworkBuilder builder = LutNetwork.builder(List.of("a", "b", "c"));

  @Test
  void lut_sameFunctionInOtherOrder_isShared() {
    TruthTable aAndNotB = TruthTable.parse("0100");
    TruthTable notAAndB = TruthTable.parse("0010");
    assertThat(builder.lut(aAndNotB, 0, 1)).isEqualTo(builder.lut(notAAndB, 1, 0));
  }

  @Test
  void lut_constantsBuffersAndRepeats_areFolded() {
    assertThat(builder.lut(AND, 0, LutNetwork.ZERO)).isEqualTo(LutNetwork.ZERO);
    assertThat(builder.lut(AND, 0, LutNetwork.ONE)).isEqualTo(0);
    assertThat(builder.lut(AND, 1, 1)).isEqualTo(1);
    assertThat(builder.lut(XOR, 2, 2)).isEqualTo(LutNetwork.ZERO);
    int inverted = builder.lut(NOT, 0);
    assertThat(builder.lut(NOT, inverted)).isEqualTo(0);
    assertThat(builder.lut(XOR, inverted, 0)).isEqualTo(LutNetwork.ONE);
  }

  @Test
  void build_deadLutsAndInverters_areLeftOut() {
    int and = builder.lut(AND, 0, 1);
    int nand = builder.lut(NAND, 0, 1);
    builder.lut(AND, and, 2);
    LutNetwork network = builder.output("y", nand).output("z", builder.lut(XOR, nand, 2)).build();
    assertThat(network.toString()).isEqualTo("3 inputs, 3 LUTs, 2 levels, 2 outputs");
    assertThat(network.level(network.outputs().get(0).signal())).isEqualTo(1);
    assertThat(network.table(0)).isEqualTo(TruthTable.of(3, p -> (p & 3) != 3));
    assertThat(network.table(1)).isEqualTo(TruthTable.of(3, p -> ((p & 3) != 3) != (p > 3)));
    assertThat(network.toBuilder().build()).isEqualTo(network);
  }

  @Test
  void evaluate_eightFanIns_isTheTable() {
    TruthTable table = TruthTable.of(8, p -> Integer.bitCount(p * 0x9e3779b9) % 3 == 1);
    LutNetworkBuilder wide = LutNetwork.builder(List.of("a", "b", "c", "d", "e", "f", "g", "h"));
    LutNetwork network = wide.output("y", wide.lut(table, 0, 1, 2, 3, 4, 5, 6, 7)).build();
    assertThat(network.table(0)).isEqualTo(table);
  }

  @Test
  void lut_unknownSignal_saysRange() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.lut(AND, 0, 3)))
        .hasMessageThat()
        .isEqualTo("lut: a signal must be in [-2, 3), found 3");
  }

  @Test
  void lut_incompleteTable_isRejected() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> builder.lut(TruthTable.parse("0-"), 0)))
        .hasMessageThat()
        .isEqualTo(
            "lut: needs a complete table of as many inputs as signals, at most 8,"
                + " found 1 inputs and 1 signals with don't-cares");
  }

  @Test
  void output_nameTwice_isRejected() {
    builder.output("y", 0);
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.output("y", 1)))
        .hasMessageThat()
        .isEqualTo("output: names must differ, found y twice");
  }

  @Test
  void append_ofOtherInputs_isTheFunctionOfThem() {
    TruthTable and = TruthTable.parse("0001");
    LutNetworkBuilder small = LutNetwork.builder(List.of("a", "b", "c"));
    int both = small.lut(and, 0, 1);
    LutNetwork part =
        small
            .output("y", small.lut(and, both, 2))
            .output("z", 0)
            .output("one", LutNetwork.ONE)
            .build();
    LutNetworkBuilder builder = LutNetwork.builder(List.of("p", "q"));
    int[] signals = builder.append(part, 1, LutNetwork.ONE, 0);
    assertThat(signals)
        .asList()
        .containsExactly(builder.lut(and, 0, 1), 1, LutNetwork.ONE)
        .inOrder();
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.append(part, 0, 1)))
        .hasMessageThat()
        .isEqualTo("append: a signal for each of 3 inputs is expected, found 2");
  }
}

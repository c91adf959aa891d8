package dev.lengthwise.logic.network;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.logic.function.TruthTable;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class WideMuxesTest {

  private static final TruthTable FOUR_WAYS = TruthTable.of(6, p -> (p >> (p >> 4) & 1) != 0);

  /** A ROM of 256 bits as four LUTs and the multiplexer after them; one LUT may be read twice. */
  private static LutNetwork rom(boolean readTwice) {
    Random random = new Random(5);
    LutNetworkBuilder builder =
        LutNetwork.builder(List.of("a0", "a1", "a2", "a3", "a4", "a5", "a6", "a7"));
    int[] fanIns = new int[6];
    for (int part = 0; part < 4; part++) {
      long bits = random.nextLong();
      fanIns[part] = builder.lut(TruthTable.of(6, p -> (bits >> p & 1) != 0), 0, 1, 2, 3, 4, 5);
    }
    fanIns[4] = 6;
    fanIns[5] = 7;
    builder.output("q", builder.lut(FOUR_WAYS, fanIns));
    return (readTwice ? builder.output("part", fanIns[0]) : builder).build();
  }

  @Test
  void in_rom256x1_takesFourSitesAndTheMuxAfterThem() {
    // Common practice, no source.
    LutNetwork network = rom(false);
    WideMuxes muxes = WideMuxes.in(network);
    assertThat(muxes.count()).isEqualTo(3);
    assertThat(Packing.of(network, 5, muxes).sites()).hasSize(4);
    assertThat(Packing.of(network, 5).sites()).hasSize(5);
  }

  @Test
  void in_partThatIsReadElsewhere_needsTheLut() {
    assertThat(WideMuxes.in(rom(true)).count()).isEqualTo(0);
  }

  @Test
  void in_gatesThatAreNoMux_findsNone() {
    LutNetworkBuilder builder = LutNetwork.builder(List.of("a", "b", "c"));
    int and = builder.lut(TruthTable.of(2, p -> p == 3), 0, 1);
    int or = builder.lut(TruthTable.of(2, p -> p != 0), 0, 1);
    builder.output("y", builder.lut(TruthTable.of(3, p -> Integer.bitCount(p) >= 2), and, or, 2));
    LutNetwork majority = builder.build();
    assertThat(WideMuxes.in(majority)).isEqualTo(WideMuxes.none());
    assertThat(WideMuxes.none().toString()).isEqualTo("0 wide multiplexers for 0 luts");
  }
}

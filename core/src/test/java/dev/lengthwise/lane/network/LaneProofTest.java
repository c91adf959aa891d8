package dev.lengthwise.lane.network;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.lane.LaneMapper;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.ReferenceLane;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.testing.Slow;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Takes about 5 s. */
@Slow
class LaneProofTest {

  private static final LaneFunction SHAPE = ReferenceLane.shape(false);

  private static final LutNetwork NETWORK =
      LaneMapper.map(SHAPE, MapperSettings.of(6), Integer.MAX_VALUE).orElseThrow().network();

  /** Returns a network with one LUT inverted. */
  private static LutNetwork broken(LutNetwork network, int broken) {
    LutNetworkBuilder builder = LutNetwork.builder(network.inputNames());
    int inputs = network.inputNames().size();
    int[] signals = new int[inputs + network.luts().size()];
    for (int i = 0; i < inputs; i++) {
      signals[i] = i;
    }
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      boolean inverted = i == broken;
      TruthTable table = TruthTable.of(lut.table().inputs(), p -> lut.table().isOn(p) != inverted);
      signals[inputs + i] =
          builder.lut(table, lut.fanIns().stream().mapToInt(s -> signals[s]).toArray());
    }
    network
        .outputs()
        .forEach(o -> builder.output(o.name(), o.signal() < 0 ? o.signal() : signals[o.signal()]));
    return builder.build();
  }

  @Test
  void byDiagrams_rightNetwork_sameCountAsExhaustively() {
    LutNetwork network = NETWORK;
    LaneProof.Outcome one = LaneProof.run(SHAPE, network);
    LaneProof.Outcome other = LaneProof.byDiagrams(SHAPE, network);
    assertThat(one.method()).isEqualTo("exhaustive");
    assertThat(other.method()).isEqualTo("decision diagrams");
    assertThat(one.proved()).isTrue();
    assertThat(other.proved()).isTrue();
    assertThat(other.points()).isEqualTo(one.points());
  }

  @Test
  void run_anyLutInverted_bothMethodsNameADifference() {
    LutNetwork network = NETWORK;
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork broken = broken(network, i);
      for (LaneProof.Outcome outcome :
          List.of(LaneProof.run(SHAPE, broken), LaneProof.byDiagrams(SHAPE, broken))) {
        assertThat(outcome.proved()).isFalse();
        assertIsReal(outcome.difference(), broken);
      }
    }
  }

  /** Evaluates the network at the point that a difference names. */
  private static void assertIsReal(Optional<String> difference, LutNetwork network) {
    String[] words = difference.orElseThrow().split(" ", -1);
    int bit = Integer.parseInt(words[2]);
    int[] window = {Integer.parseInt(words[5], 16), Integer.parseInt(words[6], 16)};
    int modes = Integer.decode(words[9]);
    long[] in = new long[17];
    for (int i = 0; i < 16; i++) {
      in[i] = window[i / 8] >> i % 8 & 1;
    }
    in[16] = modes;
    int length = SHAPE.length(window, modes);
    assertThat(length).isNotEqualTo(LaneFunction.ANYTHING);
    assertThat(network.evaluate(in)[bit] & 1).isNotEqualTo(length >> bit & 1);
  }

  /** A function made again is the same; one that differs at one point is not, and is asked anew. */
  @Test
  void run_functionMadeAgainOrAnother_isProvedForWhatItIs() {
    assertThat(ReferenceLane.shape(false)).isEqualTo(SHAPE);
    assertThat(ReferenceLane.shape(false).hashCode()).isEqualTo(SHAPE.hashCode());
    assertThat(LaneProof.run(ReferenceLane.shape(false), NETWORK).proved()).isTrue();
    assertThat(other(0)).isEqualTo(other(0));
    assertThat(other(1)).isNotEqualTo(other(0));
    assertThat(other(1).hashCode()).isEqualTo(other(0).hashCode());
    LutNetwork none = LutNetwork.builder(names(16)).output("length", LutNetwork.ONE).build();
    assertThat(LaneProof.run(other(0), none).proved()).isTrue();
    assertThat(LaneProof.run(other(1), none).difference())
        .hasValue("length bit 0 at bytes 00 7f and modes 0x0");
  }

  /** Returns a function that says 1, unless its specifier adds something. */
  private static LaneFunction other(int added) {
    LaneFunction.Builder builder = LaneFunction.builder(List.of(), 1);
    int specifier = builder.specifier((own, next, modes) -> own == 0x7f ? added : 0);
    LaneFunction.Outcome row = new LaneFunction.Bytes(List.of(1), specifier);
    return builder
        .map(new LaneFunction.CodeMap("base", 0, 1, Collections.nCopies(256, row)))
        .build();
  }

  private static List<String> names(int count) {
    return IntStream.range(0, count).mapToObj(i -> "x" + i).toList();
  }

  @Test
  void run_otherInputs_isRejected() {
    LutNetwork network = LutNetwork.builder(List.of("a")).output("length", 0).build();
    assertThat(assertThrows(IllegalArgumentException.class, () -> LaneProof.run(SHAPE, network)))
        .hasMessageThat()
        .isEqualTo("lane proof: the network must have 17 inputs and 4 outputs, found 1 and 1");
  }
}

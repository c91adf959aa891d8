package dev.lengthwise.lane.network;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.lane.LaneMapper;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.ReferenceLane;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Lanes cut in the work of bytes and the rest; about 20 s. */
@Slow
class ByteSharingTest {

  private static final int LANES = 16;

  /** A row: inputs are the bytes of the window and those behind it, then the modes. */
  private static LutNetwork row(ByteSharing sharing, int laneBytes, List<String> modes) {
    int bytes = LANES + laneBytes - 1;
    List<String> names = new ArrayList<>();
    for (int bit = 0; bit < 8 * (bytes + sharing.bytes()); bit++) {
      names.add("code_" + bit);
    }
    names.addAll(modes);
    LutNetworkBuilder builder = LutNetwork.builder(names);
    int firstMode = names.size() - modes.size();
    List<int[]> work = new ArrayList<>();
    for (int at = 0; at < bytes; at++) {
      int inputs = 8 * sharing.bytes();
      int[] signals = new int[inputs + modes.size()];
      for (int i = 0; i < signals.length; i++) {
        signals[i] = i < inputs ? 8 * at + i : firstMode + i - inputs;
      }
      work.add(place(builder, sharing.atByte(), signals));
    }
    for (int lane = 0; lane < LANES; lane++) {
      int inputs = 8 * laneBytes;
      int[] signals = new int[inputs + modes.size() + sharing.readings().size()];
      for (int i = 0; i < inputs + modes.size(); i++) {
        signals[i] = i < inputs ? 8 * lane + i : firstMode + i - inputs;
      }
      for (int i = 0; i < sharing.readings().size(); i++) {
        ByteSharing.Reading reading = sharing.readings().get(i);
        signals[inputs + modes.size() + i] = work.get(lane + reading.position())[reading.output()];
      }
      int[] outputs = place(builder, sharing.atLane(), signals);
      for (int i = 0; i < outputs.length; i++) {
        builder.output("lane_" + lane + "_" + i, outputs[i]);
      }
    }
    return builder.build();
  }

  private static int[] place(LutNetworkBuilder builder, LutNetwork network, int[] inputs) {
    int[] signals = new int[inputs.length + network.luts().size()];
    System.arraycopy(inputs, 0, signals, 0, inputs.length);
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      signals[inputs.length + i] =
          builder.lut(lut.table(), lut.fanIns().stream().mapToInt(s -> signals[s]).toArray());
    }
    return network.outputs().stream()
        .mapToInt(o -> o.signal() < 0 ? o.signal() : signals[o.signal()])
        .toArray();
  }

  @Test
  void of_sixteenReferenceLanes_fewLutsEachAtFourLevels() {
    LaneFunction shape = ReferenceLane.shape(true);
    LaneMapping mapping =
        LaneMapper.map(shape, MapperSettings.of(6), Integer.MAX_VALUE).orElseThrow();
    ByteSharing sharing = ByteSharing.of(mapping.network(), shape.bytes());
    assertThat(sharing.atByte().luts()).isNotEmpty();
    LutNetwork row = row(sharing, shape.bytes(), shape.modes());
    assertThat(row.luts().size()).isAtMost(30 * LANES);
    assertThat(row.levels()).isAtMost(4);
    assertEqualsLanes(row, mapping, shape);
    assertLateLaneAgrees(mapping);
  }

  private static void assertEqualsLanes(LutNetwork row, LaneMapping mapping, LaneFunction shape) {
    Random random = new Random(3);
    for (int round = 0; round < 200; round++) {
      long[] in = random.longs(row.inputNames().size()).toArray();
      long[] out = row.evaluate(in);
      for (int lane = 0; lane < LANES; lane++) {
        long[] own = new long[mapping.network().inputNames().size()];
        System.arraycopy(in, 8 * lane, own, 0, 8 * shape.bytes());
        own[8 * shape.bytes()] = in[in.length - 1];
        long[] wanted = mapping.network().evaluate(own);
        for (int bit = 0; bit < wanted.length; bit++) {
          assertThat(out[lane * wanted.length + bit]).isEqualTo(wanted[bit]);
        }
      }
    }
  }

  /** The lane with its mode late says for each value what the lane says. */
  private static void assertLateLaneAgrees(LaneMapping mapping) {
    LateLane late = LateLane.of(mapping, List.of("w"));
    assertThat(late.roles()).hasSize(late.network().luts().size());
    assertThat(late.roles()).doesNotContain(null);
    Random random = new Random(4);
    for (int round = 0; round < 200; round++) {
      long[] in = random.longs(mapping.network().inputNames().size()).toArray();
      long[] both = late.network().evaluate(in);
      for (int w = 0; w < 2; w++) {
        in[in.length - 1] = -w;
        long[] wanted = mapping.network().evaluate(in);
        for (int bit = 0; bit < wanted.length; bit++) {
          assertThat(both[w * wanted.length + bit]).isEqualTo(wanted[bit]);
        }
      }
    }
  }
}

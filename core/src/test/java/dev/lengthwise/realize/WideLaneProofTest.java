package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.lane.LaneMapper;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LaneProof;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.gates.GateCover;
import dev.lengthwise.testing.Slow;
import java.math.BigInteger;
import org.junit.jupiter.api.Test;

/** A lane of more than 40 bits, which no one enumerates. Takes about 15 s. */
@Slow
class WideLaneProofTest {

  private static final Predecoder LANE =
      Predecoder.builder(Ia32.instructionSet()).undefinedRows(UndefinedRows.ANYTHING).build();
  private static final LaneFunction SHAPE = LaneFunctions.of(LaneTable.of(LANE, 0));

  private static final LutNetwork ROM = rom();

  private static LutNetwork rom() {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(LANE, Style.ROM);
    return GateCover.ofLane(design.circuit(), SHAPE, 6);
  }

  @Test
  void run_ia32AsRom_provedAtEveryPoint() {
    LaneProof.Outcome outcome = LaneProof.run(SHAPE, ROM);
    assertThat(outcome.method()).isEqualTo("decision diagrams");
    assertThat(outcome.proved()).isTrue();
    // Most codes are defined, so most points of the 45 bits read matter.
    assertThat(outcome.points()).isGreaterThan(BigInteger.ONE.shiftLeft(44));
    assertThat(outcome.points()).isLessThan(BigInteger.ONE.shiftLeft(45));
  }

  @Test
  void map_ia32_fewLutsAndProved() {
    LaneMapping mapping =
        LaneMapper.map(SHAPE, MapperSettings.of(6), Integer.MAX_VALUE).orElseThrow();
    assertThat(mapping.proof().method()).isEqualTo("decision diagrams");
    assertThat(mapping.proved()).isTrue();
    // The best of several Yosys scripts takes 118 LUTs for the same function.
    assertThat(mapping.network().luts().size()).isAtMost(62);
    assertThat(mapping.network().mostFanIns()).isAtMost(6);
  }

  @Test
  void run_outputLutInverted_isFound() {
    LutNetwork network = ROM;
    LutNetworkBuilder builder = LutNetwork.builder(network.inputNames());
    int inputs = network.inputNames().size();
    int last = network.outputs().get(0).signal() - inputs;
    int[] signals = new int[inputs + network.luts().size()];
    for (int i = 0; i < signals.length; i++) {
      if (i < inputs) {
        signals[i] = i;
        continue;
      }
      LutNetwork.Lut lut = network.luts().get(i - inputs);
      boolean wrong = i - inputs == last;
      TruthTable table = TruthTable.of(lut.table().inputs(), p -> lut.table().isOn(p) != wrong);
      signals[i] = builder.lut(table, lut.fanIns().stream().mapToInt(s -> signals[s]).toArray());
    }
    network
        .outputs()
        .forEach(o -> builder.output(o.name(), o.signal() < 0 ? o.signal() : signals[o.signal()]));
    LaneProof.Outcome outcome = LaneProof.run(SHAPE, builder.build());
    assertThat(outcome.difference().orElseThrow())
        .matches("length bit 0 at bytes ([0-9a-f]{2} ){6}and modes 0x[0-3]");
  }
}

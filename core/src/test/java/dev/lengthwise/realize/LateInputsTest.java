package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LateLane;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.PinOrder;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

@Slow
class LateInputsTest {

  private static final Realizer FOUR = Realizer.on(DeviceProfile.fourInput());

  private static Predecoder lane() {
    OperandSpecifier sill =
        OperandSpecifier.named("sill").when("0xxx_xxxx", 0).when("1xxx_xxxx", 1).build();
    LengthTable table =
        LengthTable.named("weir")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x3a)
                        .bytes(1)
                        .rows(0x3b, 0x5f)
                        .bytes(2)
                        .specifier(sill)
                        .rows(0x60, 0x93)
                        .bytes(2)
                        .grows("wide", 1)
                        .others()
                        .undefined())
            .build();
    return Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE, 8)).build();
  }

  private static LutNetwork network(Design design) {
    assertThat(design.total().proved()).isTrue();
    return design.mapping().orElseThrow().network();
  }

  /** The most LUTs from an input to an output. */
  private static int depth(LutNetwork network, int input) {
    int inputs = network.inputNames().size();
    int[] behind = new int[inputs + network.luts().size()];
    for (int lut = network.luts().size() - 1; lut >= 0; lut--) {
      for (int signal : network.luts().get(lut).fanIns()) {
        behind[signal] = Math.max(behind[signal], 1 + behind[inputs + lut]);
      }
    }
    return behind[input];
  }

  /** The statement is the README's. */
  @Test
  void realize_lateModeAndByte_passFewLuts() throws IOException {
    DeviceProfile device = DeviceProfile.fourInput();
    Predecoder lane = lane();
    Design design =
        Realizer.on(device)
            .withLateMode("wide", 4)
            .withLateByte(1, 2.5)
            .realize(lane, Style.LUT_NETWORK);
    assertThat(Files.readString(Path.of("..", "README.md")))
        .contains(
            "Realizer.on(device).withLateMode(\"wide\", 4).withLateByte(1, 2.5)"
                + ".realize(lane, Style.LUT_NETWORK);\n");
    assertThat(depth(network(design), 16)).isEqualTo(1);
    // Bit 7 of the byte says whether there is one more; what is there after 2.5 levels is after 3.
    assertThat(depth(network(design), 15)).isAtMost(2);
    assertThat(design.delayLevels()).isEqualTo(5);
    assertThat(design.explain())
        .contains("  mode wide is there after 4 levels of others and passes 1");
  }

  @Test
  void realize_lateByte_passesOneLut() {
    Design design = FOUR.withLateByte(1, 4).realize(lane(), Style.LUT_NETWORK);
    assertThat(depth(network(design), 15)).isEqualTo(1);
    assertThat(design.delayLevels()).isEqualTo(5);
  }

  @Test
  void choosing_lateMode_isTheLaneInWhichItPassesOneLut() {
    LaneMapping mapping =
        FOUR.withObjective(Objective.AREA)
            .realize(lane(), Style.LUT_NETWORK)
            .mapping()
            .orElseThrow();
    LaneMapping choosing = LateLane.choosing(mapping, List.of("wide"));
    assertThat(choosing.proved()).isTrue();
    assertThat(depth(choosing.network(), 16)).isEqualTo(1);
    assertThat(choosing.roles()).hasSize(choosing.network().luts().size());
  }

  @Test
  void realize_fastPins_standInTheCircuitAsChosen() {
    DeviceProfile device =
        DeviceProfile.fourInput().toBuilder()
            .pinDelays(1.3, 1.2, 1.1, 0.9)
            .fanOutDelay(0.05)
            .build();
    Design design = Realizer.on(device).realize(lane(), Style.LUT_NETWORK);
    LutNetwork network = network(design);
    DelayModel delays = DelayModel.ofPins(1300, 1200, 1100, 900).withFanOut(50);
    List<LutNetwork.Lut> ordered = PinOrder.of(network, delays);
    assertThat(ordered).isNotEqualTo(network.luts());
    List<String> tables = new ArrayList<>();
    for (Node node : design.circuit().nodes()) {
      if (node instanceof Node.Lookup lookup) {
        StringBuilder table = new StringBuilder();
        for (int point = 0; point < 1 << lookup.contents().addressBits(); point++) {
          table.append(lookup.contents().word(point));
        }
        tables.add(table.toString());
      }
    }
    List<String> wanted = new ArrayList<>();
    for (LutNetwork.Lut lut : ordered) {
      StringBuilder table = new StringBuilder();
      for (int point = 0; point < 1 << lut.fanIns().size(); point++) {
        table.append(lut.table().isOn(point) ? '1' : '0');
      }
      wanted.add(table.toString());
    }
    assertThat(tables).isEqualTo(wanted);
  }

  @Test
  void late_badValues_areRejected() {
    check(
        () -> FOUR.withLateMode("wide", -1),
        "mode wide must come after [0, 100] levels, found -1.0");
    check(() -> FOUR.withLateByte(-1, 2), "a byte must be at least 0, found -1");
    check(() -> FOUR.withLateByte(1, 101), "byte 1 must come after [0, 100] levels, found 101.0");
    check(
        () -> FOUR.withLateMode("narrow", 1).realize(lane(), Style.ROM),
        "a mode of lane weir_lane is expected, found narrow");
    check(
        () -> FOUR.withLateByte(2, 1).realize(lane(), Style.ROM),
        "a byte of lane weir_lane is in [0, 2), found 2");
  }

  @Test
  void realize_lateInputsInAnotherStyle_isRefused() {
    Realizer late = FOUR.withLateMode("wide", 2);
    for (Style style : List.of(Style.ROM, Style.BANKED)) {
      assertThat(assertThrows(IllegalStateException.class, () -> late.realize(lane(), style)))
          .hasMessageThat()
          .isEqualTo("realizer: late inputs need style lut_network, found " + style.label());
    }
  }

  private static void check(Executable call, String message) {
    assertThat(assertThrows(IllegalArgumentException.class, call))
        .hasMessageThat()
        .isEqualTo("late inputs: " + message);
  }
}

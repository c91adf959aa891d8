package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.ReferenceLane;
import dev.lengthwise.examples.set.Tidegate;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import dev.lengthwise.testing.SynthesisFlow;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Lanes in style LUT_NETWORK come out of whole synthesis flows with as many LUTs as their cost
 * says, in both languages.
 *
 * <p>Every build tries the small lane in one flow, as mapping the others takes up to a minute each.
 */
@CallsTools
@Slow
class NetworksAfterSynthesisTest {

  @TempDir Path folder;

  /** A lane and a flow. */
  record Trial(String name, Predecoder lane, SynthesisFlow flow) {

    @Override
    public String toString() {
      return name + " " + flow;
    }
  }

  static Stream<Trial> trials() {
    Predecoder sluice = Predecoder.builder(TidegateTrees.sluice()).build();
    Trial small = new Trial("sluice", sluice, SynthesisFlow.FOUR_INPUT);
    if (!Extent.isWhole()) {
      return Stream.of(small);
    }
    return Stream.of(SynthesisFlow.values())
        .flatMap(
            flow ->
                Stream.of(
                    new Trial("sluice", sluice, flow),
                    new Trial("tidegate", Tidegate.lane(), flow),
                    new Trial("reference", ReferenceLane.read().lane(true), flow)));
  }

  @ParameterizedTest
  @MethodSource("trials")
  void network_afterSynthesis_hasTheLutsOfItsCost(Trial trial) {
    DeviceProfile device =
        trial.flow().lutInputs() == 4 ? DeviceProfile.fourInput() : DeviceProfile.sixInput();
    Design design = Realizer.on(device).realize(trial.lane(), Style.LUT_NETWORK);
    OutputTree.at(folder).add(new Verilog()).add(new Vhdl()).write(design);
    EmittedTree tree = new EmittedTree(folder, design.name());
    int luts = design.total().luts();
    assertThat(luts).isGreaterThan(1);
    SynthesisFlow.Result exact = new SynthesisFlow.Result(luts, Map.of());
    assertWithMessage("%s, Verilog", trial).that(trial.flow().verilog(tree)).isEqualTo(exact);
    assertWithMessage("%s, VHDL", trial).that(trial.flow().vhdl(tree)).isEqualTo(exact);
  }
}

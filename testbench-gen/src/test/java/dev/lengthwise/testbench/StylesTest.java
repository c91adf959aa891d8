package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * The styles that are mapped: same function as the golden model, fewer LUTs, proved. Every build
 * maps a network for each depth, and each treatment of undefined rows in two of them; {@code
 * -Dwhole=true} both in all.
 */
@CallsTools
class StylesTest {

  /** The usual lane as a network, mapped once. */
  private static final Design NETWORK =
      Realizer.on(DeviceProfile.sixInputDualOutput())
          .realize(Predecoder.builder(SampleSets.bytes()).build(), Style.LUT_NETWORK);

  static List<Predecoder> lanes() {
    List<Predecoder> lanes = new ArrayList<>();
    for (SpecifierDepth depth : SpecifierDepth.values()) {
      for (UndefinedRows undefined : UndefinedRows.values()) {
        lanes.add(
            Predecoder.builder(SampleSets.bytes())
                .depth(depth)
                .undefinedRows(undefined)
                .leaveOut("base", 0x1c, 0x2a)
                .build());
      }
    }
    lanes.add(Predecoder.builder(SampleSets.bytes()).lookahead(1).build());
    lanes.add(Predecoder.builder(SampleSets.bytes()).longest(3).build());
    lanes.add(Predecoder.builder(SampleSets.bytes()).prefixes(PrefixTreatment.folded(1)).build());
    lanes.add(Predecoder.builder(SampleSets.bytes()).prefixes(PrefixTreatment.NOT_HANDLED).build());
    return lanes;
  }

  private static Design check(Predecoder lane, Style style, DeviceProfile device) {
    Design design = Realizer.on(device).realize(lane, style);
    SimulationResult result = BuiltInSimulator.run(design, LaneVectors.of(lane, 5000, 11));
    assertWithMessage("%s %s\n%s", style, lane, result.output())
        .that(result.mismatches())
        .isEqualTo(0);
    assertThat(result.passed()).isTrue();
    return design;
  }

  @ParameterizedTest
  @MethodSource("lanes")
  void banked_everyKindOfLane_agreesWithGoldenVectors(Predecoder lane) {
    Design design = check(lane, Style.BANKED, DeviceProfile.sixInputDualOutput());
    assertThat(design.total().luts()).isGreaterThan(0);
  }

  static List<Predecoder> mappedLanes() {
    List<Predecoder> lanes = lanes();
    return Extent.isWhole()
        ? lanes
        : IntStream.of(0, 3, 4, 7, 8, 9, 10, 11).mapToObj(lanes::get).toList();
  }

  @ParameterizedTest
  @MethodSource("mappedLanes")
  void lutNetwork_everyKindOfLane_agreesWithGoldenVectorsAndIsProved(Predecoder lane) {
    Design design = check(lane, Style.LUT_NETWORK, DeviceProfile.sixInputDualOutput());
    assertThat(design.total().proved()).isTrue();
    assertThat(design.total().sites()).isAtMost(design.total().luts());
  }

  @Test
  void lutNetwork_fourInputLuts_agreesWithGoldenVectors() {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    Design design = check(lane, Style.LUT_NETWORK, DeviceProfile.fourInput());
    assertThat(design.total().proved()).isTrue();
  }

  @Test
  void cost_styles_neverGrowFromRomToNetwork() {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    DeviceProfile device = DeviceProfile.sixInputDualOutput();
    List<Integer> luts = new ArrayList<>();
    for (Style style : Style.values()) {
      Design design =
          style == Style.LUT_NETWORK ? NETWORK : Realizer.on(device).realize(lane, style);
      assertThat(design.total().block()).isEqualTo("sample_lane");
      assertThat(design.total().proved()).isTrue();
      luts.add(design.total().luts());
    }
    assertThat(luts).isInOrder(Comparator.reverseOrder());
  }

  @Test
  void cost_network_blocksSumToWhole() {
    Design design = NETWORK;
    List<BlockCost> cost = design.cost();
    int sum = cost.subList(0, cost.size() - 1).stream().mapToInt(BlockCost::luts).sum();
    assertThat(sum).isEqualTo(design.total().luts());
  }

  @Test
  void criticalPath_network_climbsOneLevelAStep() {
    Design design = NETWORK;
    List<PathStep> path = design.criticalPath();
    assertThat(path.get(0).name()).startsWith("input ");
    assertThat(path.get(path.size() - 1).name()).startsWith("output length");
    for (int i = 0; i < path.size() - 1; i++) {
      assertThat(path.get(i).level()).isEqualTo(i);
    }
    assertThat(design.total().levels()).isEqualTo(path.get(path.size() - 1).level());
  }

  @Test
  void explain_network_namesEveryLutAndEveryConflict() {
    Design design = NETWORK;
    String text = String.join("\n", design.explain());
    for (int lut = 0; lut < design.total().luts(); lut++) {
      assertThat(text).contains("LUT " + lut + ", level ");
    }
    assertThat(text).contains("map base: ");
    assertThat(text).contains("codes between the blocks:");
    assertThat(text).contains("longest path:");
  }
}

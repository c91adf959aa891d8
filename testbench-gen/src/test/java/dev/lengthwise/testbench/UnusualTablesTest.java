package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.verilog.Verilog;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Tables that are legal and unusual, up the whole ladder in every style (Debian packages iverilog,
 * verilator, ghdl, yosys): a map to which two maps lead, and lanes that handle nothing. Every build
 * maps the joined lane as a LUT network; its folded and its word-coded relatives, which take half a
 * minute, with {@code -Dwhole=true}.
 */
@CallsTools
class UnusualTablesTest {

  private static final DeviceProfile DEVICE = DeviceProfile.sixInputDualOutput();

  /** Each made once, as mapping takes its time. */
  private static final Map<List<Object>, Design> MADE = new ConcurrentHashMap<>();

  @TempDir Path folder;

  private static Design made(Predecoder lane, Style style) {
    return MADE.computeIfAbsent(
        List.of(lane, style), key -> Realizer.on(DEVICE).realize(lane, style));
  }

  static List<Predecoder> lanes() {
    PrefixRules flip = PrefixRules.builder().flips(0xf0, "wide").most(2).build();
    return List.of(
        Predecoder.builder(UnusualSets.joined()).build(),
        Predecoder.builder(UnusualSets.joined()).prefixes(PrefixTreatment.folded(2)).build(),
        Predecoder.builder(UnusualSets.joined()).leaveOut("base", 0, 0xff).build(),
        Predecoder.builder(UnusualSets.nothing(PrefixRules.NONE)).build(),
        Predecoder.builder(UnusualSets.nothing(flip)).undefinedRows(UndefinedRows.ANYTHING).build(),
        Predecoder.builder(UnusualSets.nothing(flip)).prefixes(PrefixTreatment.folded(1)).build(),
        Predecoder.builder(UnusualSets.joinedWords()).build());
  }

  /** Returns every lane in every style, but for what takes long. */
  static List<Arguments> lanesInStyles() {
    List<Arguments> all = new ArrayList<>();
    for (int number = 0; number < lanes().size(); number++) {
      for (Style style : Style.values()) {
        boolean takesLong = style == Style.LUT_NETWORK && (number == 1 || number == 6);
        if (Extent.isWhole() || !takesLong) {
          all.add(Arguments.of(lanes().get(number), style));
        }
      }
    }
    return all;
  }

  @ParameterizedTest
  @MethodSource("lanesInStyles")
  void lane_anyStyle_agreesWithTheGoldenModel(Predecoder lane, Style style) {
    Design design = made(lane, style);
    SimulationResult result = BuiltInSimulator.run(design, LaneVectors.of(lane, 3000, 11).every(5));
    assertWithMessage(result.output()).that(result.mismatches()).isEqualTo(0);
    assertThat(result.passed()).isTrue();
    assertThat(design.cost()).isNotEmpty();
    assertThat(design.explain()).isNotEmpty();
    assertThat(design.total().proved()).isTrue();
  }

  @Test
  void lutNetwork_laneThatHandlesNothingOnSmallLuts_takesNoLut() {
    Predecoder lane = Predecoder.builder(UnusualSets.nothing(PrefixRules.NONE)).build();
    Design design = Realizer.on(DeviceProfile.fourInput()).realize(lane, Style.LUT_NETWORK);
    assertThat(design.total().luts()).isEqualTo(0);
    assertThat(design.total().proved()).isTrue();
  }

  /** Designs that differ in what they have of the unusual: tables, networks, cores, rows. */
  static List<Design> designs() {
    List<Design> designs = new ArrayList<>();
    for (Style style : List.of(Style.ROM, Style.LUT_NETWORK)) {
      for (int number : new int[] {0, 3}) {
        Predecoder lane = lanes().get(number);
        LaneArray row = LaneArray.builder(lane, 8).build();
        designs.add(made(lane, style));
        designs.add(Realizer.on(DEVICE).realize(row, made(lane, style)));
      }
    }
    designs.add(made(lanes().get(1), Style.BANKED));
    designs.add(made(lanes().get(5), Style.ROM));
    return designs;
  }

  @ParameterizedTest
  @MethodSource("designs")
  void design_emitted_passesLintersBenchesAndProof(Design design) {
    EmittedChecks.pass(
        design, folder, 7, List.of(new IcarusVerilog(), new Ghdl(Ghdl.Edition.IEEE_1993)));
  }

  @Test
  void wordCodedLane_reachedTwice_passesItsBench() {
    Design design = made(lanes().get(6), Style.ROM);
    OutputTree.at(folder)
        .add(new Verilog())
        .add(new Testbenches(300, 5).withEvery(97))
        .write(design);
    SimulationResult run = new IcarusVerilog().run(folder, design.name());
    assertWithMessage(run.output()).that(run.passed()).isTrue();
  }

  @Test
  void lane_thatMaySayAnythingOfEverything_isRefused() {
    Predecoder.Builder lane =
        Predecoder.builder(UnusualSets.nothing(PrefixRules.NONE))
            .undefinedRows(UndefinedRows.ANYTHING);
    assertThat(assertThrows(IllegalStateException.class, lane::build))
        .hasMessageThat()
        .isEqualTo(
            "lane of nothing: undefined rows must be not handled where no row is defined,"
                + " found ANYTHING");
  }
}

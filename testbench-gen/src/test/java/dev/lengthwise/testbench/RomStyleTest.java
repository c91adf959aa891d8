package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.Ia32Extension;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Lanes in style rom, in the built-in simulator. Every build tries one of seven of the hundred and
 * twenty combinations, in which every unit, depth, lookahead and treatment of prefixes is met, and
 * a fifth of the vectors of IA-32.
 */
@CallsTools
class RomStyleTest {

  static List<Predecoder> lanes() {
    return Extent.oneOf(7, allLanes());
  }

  private static List<Predecoder> allLanes() {
    List<Predecoder> lanes = new ArrayList<>();
    for (InstructionSet set :
        List.of(
            SampleSets.bytes(),
            SampleSets.words(CodeUnit.WORD_BIG_ENDIAN),
            SampleSets.words(CodeUnit.WORD_LITTLE_ENDIAN))) {
      boolean wordCoded = set.table().unit() != CodeUnit.BYTE;
      for (SpecifierDepth depth : SpecifierDepth.values()) {
        if (wordCoded && depth == SpecifierDepth.BYTE) {
          continue; // 65536 opcodes each: three depths of four are enough
        }
        for (int lookahead : new int[] {1, 2, 3, 6}) {
          for (PrefixTreatment prefixes :
              List.of(
                  PrefixTreatment.ONE_UNIT_EACH,
                  PrefixTreatment.NOT_HANDLED,
                  PrefixTreatment.folded(2))) {
            lanes.add(
                Predecoder.builder(set)
                    .depth(depth)
                    .lookahead(lookahead)
                    .longest(lookahead == 3 ? 4 : set.longest())
                    .prefixes(prefixes)
                    .undefinedRows(
                        lookahead == 2 ? UndefinedRows.ANYTHING : UndefinedRows.NOT_HANDLED)
                    .leaveOut("base", 0x1c, 0x2a)
                    .build());
          }
        }
      }
    }
    return lanes;
  }

  @ParameterizedTest
  @MethodSource("lanes")
  void circuit_everyKindOfLane_agreesWithGoldenVectors(Predecoder lane) {
    SimulationResult result =
        BuiltInSimulator.run(
            Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM),
            LaneVectors.of(lane, 2000, 3));
    assertWithMessage("%s\n%s", lane, result.output()).that(result.mismatches()).isEqualTo(0);
    assertThat(result.passed()).isTrue();
  }

  @Test
  void circuit_ia32EverythingFollowed_agreesWithGoldenVectors() {
    Predecoder lane = Predecoder.builder(Ia32.instructionSet()).build();
    SimulationResult result =
        BuiltInSimulator.run(
            Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM),
            LaneVectors.of(lane, 100_000, 3));
    assertWithMessage(result.output()).that(result.mismatches()).isEqualTo(0);
    assertThat(result.vectors()).isGreaterThan(110_000);
  }

  @Test
  void circuit_ia32TwoPrefixesFolded_agreesWithGoldenVectors() {
    Predecoder lane =
        Predecoder.builder(Ia32.instructionSet()).prefixes(PrefixTreatment.folded(2)).build();
    SimulationResult result =
        BuiltInSimulator.run(
            Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM),
            LaneVectors.of(lane, 50_000, 3).every(Extent.of(5, 1)));
    assertWithMessage(result.output()).that(result.mismatches()).isEqualTo(0);
  }

  /** With a third mode, and maps that lie four bytes away; a share of the vectors, for time. */
  @Test
  void circuit_ia32WithAllExtensions_agreesWithGoldenVectors() {
    Predecoder lane = Predecoder.builder(Ia32.instructionSet(Ia32Extension.values())).build();
    SimulationResult result =
        BuiltInSimulator.run(
            Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM),
            LaneVectors.of(lane, 50_000, 3).every(13));
    assertWithMessage(result.output()).that(result.mismatches()).isEqualTo(0);
    assertThat(result.vectors()).isGreaterThan(50_000);
  }
}

package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.realize.gates.GateCover;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.marks.MarkBlocks;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Marks by entry: rows against the golden function, cycle by cycle, and the levels of LUTs between
 * their registers; about 20 s. In every build a third of the rows, {@code -Dwhole=true} all.
 */
@Slow
class EntryMarksTest {

  private static final InstructionSet SET = SampleSets.bytes();

  /** A lane of one late mode, that of a prefix which flips it. */
  private static Predecoder flipping(int longest) {
    return Predecoder.builder(SET)
        .longest(longest)
        .prefixes(PrefixTreatment.NOT_HANDLED)
        .prefix(0xf0, PrefixTreatment.ONE_UNIT_EACH)
        .build();
  }

  /** A lane of one late mode, that of prefixes which set and clear it. */
  private static Predecoder setting() {
    return Predecoder.builder(SET)
        .prefixes(PrefixTreatment.folded(1))
        .prefix(0xf1, PrefixTreatment.ONE_UNIT_EACH)
        .prefix(0xf2, PrefixTreatment.ONE_UNIT_EACH)
        .prefix(0xf3, PrefixTreatment.ONE_UNIT_EACH)
        .build();
  }

  private static Predecoder whole() {
    return Predecoder.builder(SET).build();
  }

  private static LaneArray.Builder row(Predecoder lane, int window, int levels, int inputs) {
    return LaneArray.builder(lane, window).marking(Marking.byEntry(levels, inputs));
  }

  static List<LaneArray> arrays() {
    return Extent.oneOf(3, allArrays());
  }

  private static List<LaneArray> allArrays() {
    List<LaneArray> arrays = new ArrayList<>();
    int levels = 0;
    for (int window : new int[] {4, 5, 7, 8, 11, 13, 16, 19, 32}) {
      arrays.add(row(whole(), window, 3 + levels++ % 4, 4).build());
      arrays.add(row(whole(), window, 2 + levels++ % 4, 6).build());
      arrays.add(row(flipping(6), window, 2 + levels++ % 5, 5).build());
    }
    for (int inputs : new int[] {4, 5, 6}) {
      for (int longest = 1; longest <= 6; longest++) {
        arrays.add(row(flipping(longest), 8, 2, inputs).build());
      }
      arrays.add(row(setting(), 8, 2, inputs).build());
      arrays.add(row(setting(), 8, 16, inputs).build());
      for (int window : new int[] {8, 13, 16}) {
        arrays.add(row(whole(), window, 3, inputs).end(WindowEnd.NOT_HANDLED).build());
      }
      for (PrefixTreatment treatment :
          List.of(PrefixTreatment.NOT_HANDLED, PrefixTreatment.folded(2))) {
        arrays.add(row(Predecoder.builder(SET).prefixes(treatment).build(), 8, 2, inputs).build());
      }
      arrays.add(
          row(Predecoder.builder(SET).undefinedRows(UndefinedRows.ANYTHING).build(), 8, 3, inputs)
              .build());
      for (WindowEnd end : WindowEnd.values()) {
        Predecoder words = Predecoder.builder(SampleSets.words(CodeUnit.WORD_BIG_ENDIAN)).build();
        arrays.add(row(words, 8, 4, inputs).end(end).build());
      }
    }
    return arrays;
  }

  /** Until a pipeline tells that it waits, windows have no item; and so of short lanes most. */
  @ParameterizedTest
  @MethodSource("arrays")
  void circuit_randomWindows_agreesWithTheModel(LaneArray array) {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array, Style.ROM);
    LaneArrayCircuitTest.check(array, design, array.lane().longest() < 4 ? 100 : 400);
  }

  private static LutNetwork marks(LaneArray array, int inputs) {
    return GateCover.of(block(array), inputs);
  }

  private static Circuit block(LaneArray array) {
    return MarkBlocks.of(array, new LateModes(array));
  }

  static List<LaneArray> measured() {
    List<LaneArray> arrays = new ArrayList<>();
    for (int inputs : new int[] {4, 5, 6}) {
      for (int levels : new int[] {2, 3, 5}) {
        arrays.add(row(flipping(6), 8, levels, inputs).build());
      }
      arrays.add(row(flipping(6), 16, 2, inputs).build());
      arrays.add(row(setting(), 13, 2, inputs).build());
      arrays.add(row(whole(), 8, 3, inputs).build());
      arrays.add(row(Predecoder.builder(Ia32.instructionSet()).build(), 8, 3, inputs).build());
    }
    return Extent.oneOf(3, arrays);
  }

  @ParameterizedTest
  @MethodSource("measured")
  void cover_marks_keepsTheLevelsBetweenRegisters(LaneArray array) {
    Marking.ByEntry marking = (Marking.ByEntry) array.marking();
    assertWithMessage("%s", array)
        .that(marks(array, marking.lutInputs()).levels())
        .isAtMost(marking.levelsPerCycle());
  }

  /** Returns the most LUTs on a way from a register back to itself; 0 if there is none. */
  private static int loopLevels(LutNetwork network, String register) {
    int inputs = network.inputNames().size();
    int[] levels = new int[inputs + network.luts().size()];
    Arrays.fill(levels, -1);
    for (int i = 0; i < inputs; i++) {
      levels[i] = network.inputNames().get(i).startsWith(register + ".q") ? 0 : -1;
    }
    for (int i = 0; i < network.luts().size(); i++) {
      for (int signal : network.luts().get(i).fanIns()) {
        if (signal >= 0 && levels[signal] >= 0) {
          levels[inputs + i] = Math.max(levels[inputs + i], levels[signal] + 1);
        }
      }
    }
    return network.outputs().stream()
        .filter(output -> output.name().startsWith(register + ".d"))
        .mapToInt(output -> output.signal() < 0 ? -1 : levels[output.signal()])
        .max()
        .orElseThrow();
  }

  @Test
  void loop_ofTheEntry_hasTheLevelsThatThePlanTells() {
    for (int inputs : new int[] {4, 6}) {
      LaneArray array = row(flipping(6), 8, 2, inputs).build();
      assertThat(array.entryPlan().orElseThrow().loopLevels()).isEqualTo(2);
      assertThat(loopLevels(marks(array, inputs), "entry")).isEqualTo(2);
    }
  }

  @Test
  void realize_fewerInputsThanPlanned_isRefused() {
    LaneArray array = row(whole(), 8, 2, 6).build();
    Exception e =
        assertThrows(
            IllegalStateException.class,
            () -> Realizer.on(DeviceProfile.fourInput()).realize(array, Style.ROM));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "row sample_lanes: marks by entry of LUTs of 6 inputs need a device that has them,"
                + " found 4");
  }
}

package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.gates.GateCover;
import dev.lengthwise.realize.row.RowTop;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What the start bits of IA-32 cost in their two forms; about 10 s, most of it for the lanes. */
@Slow
class MarksCostTest {

  private static final Map<String, LutNetwork> MARKS = new HashMap<>();

  @BeforeAll
  static void map() {
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    Design lane = realizer.realize(Predecoder.builder(Ia32.instructionSet()).build(), Style.ROM);
    for (Marking marking : new Marking[] {Marking.fullRipple(), Marking.fullLogarithmic()}) {
      for (int window : new int[] {8, 16, 32}) {
        LaneArray array = LaneArray.builder(lane.lane(), window).marking(marking).build();
        MARKS.put(marking.label() + window, marks(realizer.realize(array, lane)));
      }
    }
  }

  private static LutNetwork marks(Design row) {
    Circuit block =
        row.circuit().instances().stream()
            .filter(instance -> instance.name().equals(RowTop.MARKS))
            .findFirst()
            .orElseThrow()
            .circuit();
    return GateCover.of(block, row.device().lutInputs());
  }

  private static LutNetwork of(Marking marking, int window) {
    return MARKS.get(marking.label() + window);
  }

  @Test
  void logarithmic_levels_growByAConstantWhereTheWindowDoubles() {
    // By hand: a stretch of a quarter of the window is two levels deeper where that doubles, and
    // each of the two further stretches that the distance passes takes two levels.
    int before = of(Marking.fullLogarithmic(), 8).levels();
    for (int window : new int[] {16, 32}) {
      int levels = of(Marking.fullLogarithmic(), window).levels();
      assertWithMessage("%s bytes", window).that(levels).isAtMost(before + 4);
      assertWithMessage("%s bytes", window)
          .that(levels)
          .isLessThan(of(Marking.fullRipple(), window).levels() * 2 / 3);
      before = levels;
    }
  }

  @Test
  void ripple_luts_growWithTheWindow() {
    for (int window : new int[] {16, 32}) {
      LutNetwork ripple = of(Marking.fullRipple(), window);
      assertThat(ripple.luts().size())
          .isAtMost(of(Marking.fullRipple(), window / 2).luts().size() * 22 / 10);
      assertThat(of(Marking.fullLogarithmic(), window).luts().size())
          .isAtMost(4 * ripple.luts().size());
    }
  }

  /**
   * Registers after the lanes cut the path of the whole row, whose levels are its network's: fewer
   * than without where marks are flat, while a ripple of marks may hide what lanes take.
   */
  @Test
  void total_ofACutRow_hasTheLevelsOfTheMarksOrFewOfTheLanes() {
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    for (Marking marking : List.of(Marking.fullLogarithmic(), Marking.fullRipple())) {
      LaneArray row = LaneArray.builder(lane, 4).marking(marking).build();
      Design whole = realizer.realize(row, Style.ROM);
      Design cut =
          realizer.realize(row.toBuilder().cut(PipelineCut.AFTER_LANES).build(), Style.ROM);
      int fewer = marking.equals(Marking.fullLogarithmic()) ? 1 : 0;
      assertWithMessage("%s", marking)
          .that(cut.total().levels())
          .isAtMost(whole.total().levels() - fewer);
      assertThat(cut.total().levels()).isAtLeast(marks(cut).levels());
    }
  }
}

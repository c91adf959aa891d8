package dev.lengthwise.study;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.table.InstructionSet;
import java.util.List;
import org.junit.jupiter.api.Test;

class AccuracyCheckTest {

  private static final InstructionSet SET = Libc32.TRUTH.instructionSet();

  @Test
  void of_lanesOfIa32_neverLie() {
    List<Predecoder> lanes =
        List.of(
            Predecoder.of(SET).build(),
            Predecoder.of(SET).prefixes(PrefixTreatment.folded(2)).build());
    for (Predecoder lane : lanes) {
      AccuracyCheck check = AccuracyCheck.of(lane);
      assertWithMessage("%s", lane.name()).that(check.lies()).isEmpty();
      assertThat(check.points()).isGreaterThan(1_000_000L);
      System.out.println("check: " + check.points() + " points");
    }
    Predecoder random = new RandomLanes(SET, 3).next();
    assertWithMessage("%s", random).that(AccuracyCheck.of(random).lies()).isEmpty();
  }

  @Test
  void of_answersWithOneFault_namesItsRow() {
    Predecoder lane = Predecoder.of(SET).build();
    LaneModel model = LaneModel.of(lane);
    AccuracyCheck check =
        AccuracyCheck.of(
            lane,
            (memory, offset, modes) -> {
              int said = model.lengthAt(memory, offset, modes);
              boolean broken =
                  memory[offset] == 0x0f
                      && memory[offset + 1] == (byte) 0xb6
                      && memory[offset + 2] == (byte) 0x84
                      && memory[offset + 3] == 0x24;
              return broken && modes == Ia32.MODES_32 ? said - 1 : said;
            });
    assertThat(check.isExact()).isFalse();
    assertThat(check.lies())
        .containsExactly(new AccuracyCheck.Lie("two_byte", 0xb6, "0fb68424", 3, 7, 8));
  }
}

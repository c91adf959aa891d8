package dev.lengthwise.study.accuracy;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.study.Libc32;
import dev.lengthwise.study.RandomLanes;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.Slow;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;

@Slow
class AccuracyCheckTest {

  private static final InstructionSet SET = Libc32.TRUTH.instructionSet();

  @Slow
  @Test
  void of_lanesOfIa32_neverLie() {
    List<Predecoder> lanes =
        List.of(
            Predecoder.builder(SET).build(),
            Predecoder.builder(SET).prefixes(PrefixTreatment.folded(2)).build());
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
    Predecoder lane = Predecoder.builder(SET).build();
    LaneModel model = LaneModel.of(lane);
    AccuracyCheck check =
        AccuracyCheck.of(
            lane,
            (modes, memory, offset) -> {
              int said = model.lengthAt(modes, memory, offset);
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

  /**
   * Behind prefixes the check tries one specifier byte of each class; here all are tried, of every
   * row of the first map, and for two rows with every byte behind.
   */
  @Test
  void of_foldedLane_isRightForEverySpecifierByteBehindPrefixes() {
    LaneModel model =
        LaneModel.of(Predecoder.builder(SET).prefixes(PrefixTreatment.folded(2)).build());
    byte[] memory = new byte[32];
    int said = 0;
    for (int[] prefixes : new int[][] {{0x66, 0x67}, {0xf2, 0x66}, {0x67, 0x2e}}) {
      memory[0] = (byte) prefixes[0];
      memory[1] = (byte) prefixes[1];
      for (int code = 0; code < 256; code++) {
        memory[2] = (byte) code;
        int seconds = code == 0x81 || code == 0x8b ? 256 : 2;
        for (int point = 0; point < 256 * seconds; point++) {
          memory[3] = (byte) point;
          memory[4] = (byte) ((point >> 8) * 0x25);
          int length = model.lengthAt(Ia32.MODES_32, memory, 0);
          if (length > 0) {
            said++;
            int truth = Libc32.TRUTH.lengthAt(Ia32.MODES_32, memory, 0);
            if (length != truth) {
              assertWithMessage("%s", HexFormat.of().formatHex(memory, 0, 6))
                  .that(length)
                  .isEqualTo(truth);
            }
          }
        }
      }
    }
    assertThat(said).isGreaterThan(500_000);
  }
}

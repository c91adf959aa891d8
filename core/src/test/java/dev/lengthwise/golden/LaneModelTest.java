package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

@Slow
class LaneModelTest {

  private static final GoldenModel TRUTH = GoldenModel.of(SampleSets.bytes());

  /** Every combination of depth, lookahead, longest length and prefix treatment. */
  static List<Predecoder> lanes() {
    List<Predecoder> lanes = new ArrayList<>();
    for (SpecifierDepth depth : SpecifierDepth.values()) {
      for (int lookahead : new int[] {0, 1, 2, 3, 4, 8}) {
        for (PrefixTreatment prefixes :
            List.of(
                PrefixTreatment.ONE_UNIT_EACH,
                PrefixTreatment.NOT_HANDLED,
                PrefixTreatment.folded(1),
                PrefixTreatment.folded(3))) {
          lanes.add(
              Predecoder.builder(SampleSets.bytes())
                  .depth(depth)
                  .lookahead(lookahead)
                  .longest(lookahead == 3 ? 4 : 9)
                  .prefixes(prefixes)
                  .leaveOut("base", 0x1c, 0x2a)
                  .build());
        }
      }
    }
    return lanes;
  }

  @ParameterizedTest
  @MethodSource("lanes")
  void lengthAt_randomBytes_isTrueOrNotHandled(Predecoder lane) {
    LaneModel model = LaneModel.of(lane);
    SplittableRandom random = new SplittableRandom(7);
    byte[] memory = new byte[24];
    for (int i = 0; i < 3000; i++) {
      random.nextBytes(memory);
      memory[0] = (byte) (random.nextInt(4) == 0 ? 0xf0 + random.nextInt(4) : random.nextInt(0x50));
      int modes = random.nextInt(4);
      int said = model.lengthAt(modes, memory, 0);
      assertWithMessage("%s under %s", HexFormat.of().formatHex(memory), modes)
          .that(said)
          .isAnyOf(LaneModel.NOT_HANDLED, expected(lane, memory, modes));
    }
  }

  private static int expected(Predecoder lane, byte[] memory, int modes) {
    boolean prefix = (memory[0] & 0xfc) == 0xf0;
    boolean item = prefix && lane.prefixes().get(0xf0).equals(PrefixTreatment.ONE_UNIT_EACH);
    return item ? 1 : Math.max(0, TRUTH.lengthAt(modes, memory, 0));
  }

  @Test
  void lengthAt_widestLane_handlesAllThatIsDefined() {
    LaneModel model =
        LaneModel.of(
            Predecoder.builder(SampleSets.bytes()).prefixes(PrefixTreatment.folded(4)).build());
    SplittableRandom random = new SplittableRandom(9);
    byte[] memory = new byte[24];
    int lengths = 0;
    for (int i = 0; i < 100_000; i++) {
      random.nextBytes(memory);
      memory[0] = (byte) (random.nextInt(4) == 0 ? 0xf0 + random.nextInt(4) : random.nextInt(0x50));
      int modes = random.nextInt(4);
      int truth = TRUTH.lengthAt(modes, memory, 0);
      lengths += truth > 0 ? 1 : 0;
      assertThat(model.lengthAt(modes, memory, 0)).isEqualTo(Math.max(0, truth));
      assertThat(Outcome.of(truth)).isNotEqualTo(Outcome.TOO_FEW_BYTES);
    }
    assertThat(lengths).isGreaterThan(50_000);
  }

  @Test
  void lengthAt_leftOutRow_isNotHandled() {
    LaneModel model =
        LaneModel.of(Predecoder.builder(SampleSets.bytes()).leaveOut("near", 5).build());
    assertThat(model.lengthAt(0, new byte[] {0x31, 5, 0}, 0)).isEqualTo(LaneModel.NOT_HANDLED);
    assertThat(model.lengthAt(0, new byte[] {0x31, 6, 0}, 0)).isEqualTo(3);
  }

  @Test
  void lengthAt_undefinedRow_followsChoice() {
    byte[] memory = {(byte) 0xff, 0, 0};
    assertThat(LaneModel.of(Predecoder.builder(SampleSets.bytes()).build()).lengthAt(0, memory, 0))
        .isEqualTo(LaneModel.NOT_HANDLED);
    Predecoder anything =
        Predecoder.builder(SampleSets.bytes()).undefinedRows(UndefinedRows.ANYTHING).build();
    assertThat(LaneModel.of(anything).lengthAt(0, memory, 0)).isEqualTo(LaneModel.ANYTHING);
  }

  @Test
  void build_defaults_readAsFarAsTheDescription() {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    assertThat(lane.lookahead()).isEqualTo(3);
    assertThat(lane.longest()).isEqualTo(6);
    assertThat(lane.lengthBits()).isEqualTo(3);
    assertThat(
            Predecoder.builder(SampleSets.bytes())
                .prefixes(PrefixTreatment.folded(2))
                .build()
                .lookahead())
        .isEqualTo(5);
    assertThat(
            Predecoder.builder(SampleSets.bytes()).depth(SpecifierDepth.NONE).build().lookahead())
        .isEqualTo(2);
  }

  @Test
  void build_prefixesOfOneModeTreatedApart_saysSo() {
    Predecoder.Builder builder =
        Predecoder.builder(SampleSets.bytes()).prefix(0xf2, PrefixTreatment.folded(1));
    assertThat(assertThrows(DescriptionException.class, builder::build))
        .hasMessageThat()
        .isEqualTo(
            "lane of sample: prefixes of one mode must be treated alike, found ONE_UNIT_EACH for"
                + " 0xf1 and FOLDED for 0xf2 on far");
  }
}

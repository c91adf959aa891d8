package dev.lengthwise.javamodel;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What the emitted models refuse, in the words of the golden models. */
@Slow
class RefusedCallsTest {

  @TempDir Path folder;

  private CompiledModel compiled(Predecoder lane) throws IOException {
    return CompiledModel.of(new JavaModel().files(lane), folder);
  }

  private static Predecoder folded() {
    return Predecoder.builder(SampleSets.bytes()).prefixes(PrefixTreatment.folded(2)).build();
  }

  @ParameterizedTest
  @ValueSource(ints = {4, -1, 0x40})
  void models_bitOfNoMode_isRefusedInOneWay(int modes) throws IOException {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    CompiledModel models = compiled(lane);
    byte[] memory = new byte[4];
    String rule =
        assertThrows(
                IllegalArgumentException.class,
                () -> GoldenModel.of(SampleSets.bytes()).lengthAt(modes, memory, 0))
            .getMessage();
    assertThat(rule)
        .isEqualTo(
            "table sample: a mode word may have the bits 0x1 wide, 0x2 far, found 0x"
                + Integer.toHexString(modes));
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> models.lengthModel().invoke(modes, memory, 0, 4)))
        .hasMessageThat()
        .isEqualTo(rule);
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> models.laneModel().invoke(modes, memory, 0)))
        .hasMessageThat()
        .isEqualTo(rule);
  }

  @Test
  void models_noModes_takeOnlyZero() throws Throwable {
    InstructionSet set =
        InstructionSet.of(
            LengthTable.named("plain").map("base", map -> map.rows(0, 0xff).bytes(1)).build(),
            PrefixRules.NONE);
    CompiledModel models = compiled(Predecoder.builder(set).build());
    assertThat((int) models.laneModel().invoke(0, new byte[1], 0)).isEqualTo(1);
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> models.laneModel().invoke(1, new byte[1], 0)))
        .hasMessageThat()
        .isEqualTo("table plain: a mode word must be 0, as there are no modes, found 0x1");
  }

  @ParameterizedTest
  @CsvSource({"-1, 2", "3, 2", "0, 5", "2147483647, -1"})
  void lengthModel_rangeOutsideTheBytes_isRefused(int offset, int end) throws IOException {
    CompiledModel models = compiled(folded());
    assertThat(
            assertThrows(
                IndexOutOfBoundsException.class,
                () -> models.lengthModel().invoke(0, new byte[4], offset, end)))
        .hasMessageThat()
        .isEqualTo(
            "bytes for sample: offset and end must ascend in [0, 4], found "
                + offset
                + " and "
                + end);
  }

  @Test
  void laneModels_offsetNearTheLargestInt_readZeros() throws Throwable {
    for (Predecoder lane :
        new Predecoder[] {folded(), Predecoder.builder(SampleSets.bytes()).build()}) {
      LaneModel golden = LaneModel.of(lane);
      CompiledModel models = compiled(lane);
      int zeros = golden.lengthAt(0, new byte[16], 0);
      assertThat(zeros).isEqualTo(1);
      for (int back = 0; back < 20; back++) {
        int offset = Integer.MAX_VALUE - back;
        assertThat(golden.lengthAt(0, new byte[] {0x20}, offset)).isEqualTo(zeros);
        assertThat((int) models.laneModel().invoke(0, new byte[] {0x20}, offset)).isEqualTo(zeros);
      }
      assertThat(
              assertThrows(
                  IndexOutOfBoundsException.class,
                  () -> models.laneModel().invoke(0, new byte[4], -1)))
          .hasMessageThat()
          .isEqualTo("lane sample_lane: an offset must be at least 0, found -1");
      assertThat(
              assertThrows(
                  IndexOutOfBoundsException.class, () -> golden.lengthAt(0, new byte[4], -1)))
          .hasMessageThat()
          .isEqualTo("lane sample_lane: an offset must be at least 0, found -1");
    }
  }
}

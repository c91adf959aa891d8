package dev.lengthwise.lane;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LabelledLuts;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LaneProof;
import dev.lengthwise.logic.ReferenceLane;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * Takes about 15 s. {@code -Dwhole=true} maps the larger lane twice and in LUTs of four inputs too,
 * and flattens by three levels instead of two.
 */
@Slow
class LaneMapperTest {

  private static final LaneMapping REFERENCE = quick(ReferenceLane.shape(true), 6);

  /** The lane without displacement. */
  private static final LaneMapping PLAIN = quick(ReferenceLane.shape(false), 6);

  /** The same in LUTs of four inputs. */
  private static final LaneMapping PLAIN_OF_FOUR = quick(ReferenceLane.shape(false), 4);

  private static LaneMapping quick(LaneFunction shape, int lutInputs) {
    return LaneMapper.map(shape, MapperSettings.of(lutInputs), Integer.MAX_VALUE).orElseThrow();
  }

  private static void assertProved(LaneMapping mapping, long points) {
    LaneProof.Outcome outcome = LaneProof.run(mapping.shape(), mapping.network());
    assertThat(outcome.difference()).isEqualTo(Optional.empty());
    assertThat(outcome.points()).isEqualTo(BigInteger.valueOf(points));
  }

  @Test
  void map_referenceLane_fewLutsFourLevelsAndProved() {
    LaneMapping mapping = REFERENCE;
    assertThat(mapping.network().luts().size()).isAtMost(32);
    assertThat(mapping.network().levels()).isEqualTo(4);
    assertThat(mapping.network().mostFanIns()).isAtMost(6);
    assertThat(mapping.roles()).hasSize(mapping.network().luts().size());
    // The number of points that matter, counted over the 25 bits that matter.
    assertProved(mapping, 33_540_096);
  }

  @Test
  void map_laneWithoutDisplacement_fewLuts() {
    assertThat(PLAIN.network().luts().size()).isAtMost(20);
    assertProved(PLAIN, 131_016);
  }

  @Test
  void map_fourInputLuts_fitsThem() {
    assertThat(PLAIN_OF_FOUR.network().mostFanIns()).isAtMost(4);
    assertThat(PLAIN_OF_FOUR.network().luts().size()).isAtMost(50);
    assertProved(PLAIN_OF_FOUR, 131_016);
    if (Extent.isWhole()) {
      LaneMapping mapping = quick(ReferenceLane.shape(true), 4);
      assertThat(mapping.network().mostFanIns()).isAtMost(4);
      assertThat(mapping.network().luts().size()).isAtMost(110);
      assertProved(mapping, 33_540_096);
    }
  }

  @Test
  void map_twice_sameMapping() {
    LaneMapping first = Extent.isWhole() ? REFERENCE : PLAIN;
    LaneMapping again = quick(first.shape(), 6);
    assertThat(again.network()).isEqualTo(first.network());
    assertThat(again.roles()).isEqualTo(first.roles());
    assertThat(again.codes()).isEqualTo(first.codes());
  }

  @Test
  void shrink_twice_sameMappingNoLarger() {
    List<Integer> told = new ArrayList<>();
    LaneMapping once =
        LaneMapper.shrink(
            REFERENCE,
            MapperSettings.of(6).withSeed(5).with((rounds, best) -> told.add(best)),
            Integer.MAX_VALUE);
    assertThat(told).contains(once.network().luts().size());
    LaneMapping again =
        LaneMapper.shrink(
            REFERENCE,
            MapperSettings.of(6).withSeed(5).with((rounds, best) -> told.add(best)),
            Integer.MAX_VALUE);
    assertThat(again).isEqualTo(once);
    assertThat(once.network().luts().size()).isAtMost(REFERENCE.network().luts().size());
    assertThat(once.proved()).isTrue();
  }

  @Test
  void flatten_laneWithoutDisplacement_fewerLevels() {
    LaneMapping deep = PLAIN;
    LaneMapping flat = LaneMapper.flatten(deep, deep.network().levels() - 1, MapperSettings.of(6));
    assertThat(flat.network().levels()).isLessThan(deep.network().levels());
    assertThat(flat.network().mostFanIns()).isAtMost(6);
    assertThat(flat.roles()).hasSize(flat.network().luts().size());
    assertProved(flat, 131_016);
  }

  @Test
  void flatten_fourInputLuts_levelByLevel() {
    LaneMapping deep = PLAIN_OF_FOUR;
    List<Integer> told = new ArrayList<>();
    int levels = deep.network().levels() - Extent.of(2, 3);
    LaneMapping low =
        LaneMapper.flatten(
            deep, levels, MapperSettings.of(4).with((searches, best) -> told.add(best)));
    assertThat(told).isNotEmpty();
    assertThat(low.network().levels()).isAtMost(levels);
    assertThat(low.network().mostFanIns()).isAtMost(4);
    assertProved(low, 131_016);
  }

  @Test
  void map_referenceLane_saysWhatLutsAndCodesMean() {
    for (LaneMapping.Role role : REFERENCE.roles()) {
      assertThat(role.block()).isNotEmpty();
      assertThat(role.what()).isNotEmpty();
    }
    assertThat(REFERENCE.codes().get(0)).contains("length code");
    assertThat(REFERENCE.sites(5)).isAtMost(REFERENCE.network().luts().size());
    assertThat(REFERENCE.sites(0)).isEqualTo(REFERENCE.network().luts().size());
  }

  @Test
  void prove_wrongNetwork_isRejected() {
    LaneFunction shape = ReferenceLane.shape(false);
    LutNetworkBuilder builder = LutNetwork.builder(LabelledLuts.inputNames(shape));
    for (int b = 0; b < shape.lengthBits(); b++) {
      builder.output("length" + b, LutNetwork.ONE);
    }
    assertThat(
            assertThrows(
                IllegalStateException.class,
                () -> LaneMapping.prove(shape, builder.build(), List.of(), List.of())))
        .hasMessageThat()
        .isEqualTo(
            "lane mapping: the network must be the lane, found a difference in length bit 0 at"
                + " bytes 00 00 and modes 0x0");
  }

  @Test
  void map_oneRowForAll_needsNoLut() {
    LaneFunction shape =
        LaneFunction.builder(List.of(), 3)
            .map(
                new LaneFunction.CodeMap(
                    "all", 0, 1, Collections.nCopies(256, new LaneFunction.Bytes(List.of(3), -1))))
            .build();
    LaneMapping mapping = quick(shape, 6);
    assertThat(mapping.network().luts()).isEmpty();
    assertProved(mapping, 1);
  }

  @Test
  void build_escapeToAnEarlierByte_isRejected() {
    List<LaneFunction.Outcome> outcomes =
        new ArrayList<>(Collections.nCopies(256, new LaneFunction.Anything()));
    outcomes.set(0x0f, new LaneFunction.Escape(0));
    LaneFunction.Builder builder =
        LaneFunction.builder(List.of(), 3).map(new LaneFunction.CodeMap("first", 0, 1, outcomes));
    assertThat(assertThrows(IllegalArgumentException.class, builder::build))
        .hasMessageThat()
        .isEqualTo(
            "lane shape, map first: an escape must lead to a later map and byte, found map 0");
  }

  @Test
  void map_wrongNumberOfOutcomes_isRejected() {
    LaneFunction.CodeMap map = new LaneFunction.CodeMap("short", 0, 1, List.of());
    LaneFunction.Builder builder = LaneFunction.builder(List.of(), 3);
    assertThat(assertThrows(IllegalArgumentException.class, () -> builder.map(map)))
        .hasMessageThat()
        .isEqualTo(
            "lane shape, map short: 256 outcomes are needed, and offset 0 in the first map,"
                + " found 0 and 0");
  }

  @Test
  void builder_lengthOutOfRange_isRejected() {
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> LaneFunction.builder(List.of(), 64)))
        .hasMessageThat()
        .isEqualTo(
            "lane shape: modes must be at most 8 and the longest length in [1, 63],"
                + " found 0 and 64");
  }
}

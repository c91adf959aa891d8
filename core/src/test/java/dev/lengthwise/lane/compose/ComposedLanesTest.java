package dev.lengthwise.lane.compose;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.lane.LaneMapper;
import dev.lengthwise.lane.function.AlignedFunction;
import dev.lengthwise.lane.function.HandledRows;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Lanes drawn at random, in parts and put together again; the mapping's own proof compares. */
@Slow
class ComposedLanesTest {

  private static final int LANES = 12;

  /** A specifier that adds none to two bytes, by its own bits, the byte behind and the mode. */
  private static int added(int specifier, int next, int modes) {
    return specifier >= 0xc0 ? 0 : (specifier & 0x07) == 4 ? next & 1 : 1 + (modes & 1);
  }

  /**
   * Draws a lane of three maps in a chain, and one whose byte tells rows apart for each of them.
   */
  private static LaneFunction lane(Random random) {
    LaneFunction.Builder builder = LaneFunction.builder(List.of("wide"), 7);
    int specifier = builder.specifier(ComposedLanesTest::added);
    for (int map = 0; map < 3; map++) {
      List<LaneFunction.Outcome> outcomes = rows(random, map + 1, random.nextInt(6), specifier);
      outcomes.set(random.nextInt(256), new LaneFunction.Escape(3 + map));
      outcomes.set(random.nextInt(256), new LaneFunction.Escape(3 + map));
      if (map < 2) {
        outcomes.set(random.nextInt(256), new LaneFunction.Escape(map + 1));
      }
      builder.map(new LaneFunction.CodeMap("map" + map, map, map + 1, outcomes));
    }
    for (int map = 0; map < 3; map++) {
      List<LaneFunction.Outcome> outcomes = rows(random, map + 1, random.nextInt(6), specifier);
      builder.map(new LaneFunction.CodeMap("split" + map, map + 1, map + 1, outcomes));
    }
    return builder.build();
  }

  /** Draws rows alike for all codes with the same values of two or three bits. */
  private static List<LaneFunction.Outcome> rows(
      Random random, int bytes, int open, int specifier) {
    List<LaneFunction.Outcome> kinds = new ArrayList<>();
    for (int kind = 0; kind < 8; kind++) {
      kinds.add(
          switch (random.nextInt(4)) {
            case 0 ->
                kind < open
                    ? new LaneFunction.Anything()
                    : new LaneFunction.Bytes(List.of(0, 0), -1);
            case 1 -> new LaneFunction.Bytes(List.of(bytes, bytes + 1), -1);
            default -> new LaneFunction.Bytes(List.of(bytes + 1, bytes + 1), specifier);
          });
    }
    int shift = random.nextInt(6);
    List<LaneFunction.Outcome> rows = new ArrayList<>();
    for (int code = 0; code < 256; code++) {
      rows.add(kinds.get(code >> shift & 7));
    }
    return rows;
  }

  private static MapperSettings settings(Random random) {
    return MapperSettings.of(random.nextBoolean() ? 4 : 6).with(Objective.AREA);
  }

  private static int[] window(LaneFunction shape, Random random) {
    int[] window = new int[shape.bytes() + 2];
    Arrays.setAll(window, i -> random.nextInt(256));
    return window;
  }

  @Test
  void aligned_anyWindow_saysTheLengthWhereTheSpecifierIs() {
    Set<Integer> seen = new HashSet<>();
    for (int seed = 0; seed < 200; seed++) {
      Random random = new Random(seed);
      LaneFunction shape = lane(random);
      AlignedFunction parts = AlignedFunction.of(shape).orElseThrow();
      for (int i = 0; i < 200; i++) {
        int[] window = window(shape, random);
        int place = parts.place().length(window, 0);
        int[] moved = Arrays.copyOf(window, shape.bytes() + 2);
        if (place != LaneFunction.ANYTHING) {
          int from = parts.offsets().get(place);
          moved[shape.bytes()] = window[from];
          moved[shape.bytes() + 1] = window[from + 1];
        }
        int length = shape.length(window, i & 1);
        if (length != LaneFunction.ANYTHING) {
          seen.add(place);
          assertWithMessage("seed %s, window %s", seed, Arrays.toString(window))
              .that(parts.aligned().length(moved, i & 1))
              .isEqualTo(length);
        }
      }
    }
    assertThat(seen).containsExactly(LaneFunction.ANYTHING, 0, 1, 2);
  }

  @Test
  void aligned_specifiersAtOneByte_isLeftAsItIs() {
    LaneFunction shape = lane(new Random(1));
    List<LaneFunction.CodeMap> atOne =
        shape.maps().stream()
            .map(map -> new LaneFunction.CodeMap(map.name(), map.offset(), 3, map.outcomes()))
            .toList();
    assertThat(AlignedFunction.of(shape.withMaps(atOne))).isEmpty();
  }

  @Test
  void aligned_drawnLanes_areProved() {
    for (int seed = 0; seed < Extent.of(LANES / 12, LANES); seed++) {
      Random random = new Random(seed);
      LaneFunction shape = lane(random);
      MapperSettings settings = settings(random);
      LaneMapping mapping =
          AlignedLane.map(
                  shape,
                  AlignedFunction.of(shape).orElseThrow(),
                  settings,
                  (part, inputs) -> LaneMapper.map(part, settings, Integer.MAX_VALUE))
              .orElseThrow();
      assertThat(mapping.proved()).isTrue();
      assertThat(mapping.network().mostFanIns()).isAtMost(settings.lutInputs());
      assertThat(mapping.roles()).hasSize(mapping.network().luts().size());
    }
  }

  @Test
  void parts_knowWhichInputsTheyRead() {
    LaneFunction shape = lane(new Random(3));
    AlignedFunction parts = AlignedFunction.of(shape).orElseThrow();
    List<List<Integer>> told = new ArrayList<>();
    var none =
        AlignedLane.map(
            shape,
            parts,
            MapperSettings.of(6),
            (part, inputs) -> {
              told.add(Arrays.stream(inputs).boxed().toList());
              return told.size() == 1 ? LaneMapper.map(part, MapperSettings.of(6), 99) : none();
            });
    assertThat(none).isEmpty();
    assertThat(told.get(0)).hasSize(8 * parts.place().bytes());
    assertThat(told.get(1)).hasSize(8 * parts.aligned().bytes() + 1);
    int bits = 8 * shape.bytes();
    assertThat(told.get(1).get(bits - 1)).isEqualTo(bits - 1);
    assertThat(told.get(1).get(bits)).isEqualTo(8 * parts.offsets().get(0));
    // The mode is behind the bytes, of which the aligned lane has two more.
    assertThat(told.get(1).get(bits + 16)).isEqualTo(bits);
  }

  private static Optional<LaneMapping> none() {
    return Optional.empty();
  }

  @Test
  void opened_anyWindow_isTheLaneWhereItIsHandled() {
    int open = 0;
    for (int seed = 0; seed < 200; seed++) {
      Random random = new Random(seed);
      LaneFunction shape = lane(random);
      LaneFunction opened = HandledRows.opened(shape);
      for (int i = 0; i < 200; i++) {
        int[] window = window(shape, random);
        int length = shape.length(window, i & 1);
        open += length == 0 ? 1 : 0;
        if (length > 0) {
          assertThat(opened.length(window, i & 1)).isEqualTo(length);
        }
      }
    }
    assertThat(open).isGreaterThan(1000);
  }

  @Test
  void handled_drawnLanes_areProved() {
    int mapped = 0;
    for (int seed = 0; seed < Extent.of(LANES / 12, LANES); seed++) {
      Random random = new Random(~seed);
      LaneFunction shape = lane(random);
      MapperSettings settings = settings(random);
      var mapping =
          HandledLane.map(
              shape, settings, (part, inputs) -> LaneMapper.map(part, settings, Integer.MAX_VALUE));
      if (mapping.isPresent()) {
        mapped++;
        assertThat(mapping.get().proved()).isTrue();
        assertThat(mapping.get().network().mostFanIns()).isAtMost(settings.lutInputs());
        assertThat(mapping.get().roles()).hasSize(mapping.get().network().luts().size());
      }
    }
    assertThat(mapped).isAtLeast(1);
  }

  @Test
  void handled_moreMapsThanATableChoosesFrom_isProved() {
    int maps = 20;
    LaneFunction.Builder builder = LaneFunction.builder(List.of(), 3);
    List<LaneFunction.Outcome> first =
        new ArrayList<>(Collections.nCopies(256, new LaneFunction.Bytes(List.of(1), -1)));
    for (int map = 1; map <= maps; map++) {
      first.set(7 * map, new LaneFunction.Escape(map));
    }
    builder.map(new LaneFunction.CodeMap("first", 0, 1, first));
    for (int map = 1; map <= maps; map++) {
      List<LaneFunction.Outcome> outcomes = new ArrayList<>();
      for (int code = 0; code < 256; code++) {
        int bytes = (code & map) == map ? 2 : 0;
        outcomes.add(new LaneFunction.Bytes(List.of(bytes), -1));
      }
      builder.map(new LaneFunction.CodeMap("page" + map, 1, 2, outcomes));
    }
    MapperSettings settings = MapperSettings.of(6).with(Objective.AREA);
    LaneMapping mapping =
        LaneMapper.map(builder.build(), settings, Integer.MAX_VALUE).orElseThrow();
    assertThat(mapping.proved()).isTrue();
    assertThat(mapping.roles()).hasSize(mapping.network().luts().size());
  }

  @Test
  void handled_allRows_isLeftAsItIs() {
    LaneFunction shape = HandledRows.opened(lane(new Random(2)));
    MapperSettings settings = MapperSettings.of(6);
    assertThat(
            HandledLane.map(
                shape,
                settings,
                (part, inputs) -> LaneMapper.map(part, settings, Integer.MAX_VALUE)))
        .isEmpty();
  }
}

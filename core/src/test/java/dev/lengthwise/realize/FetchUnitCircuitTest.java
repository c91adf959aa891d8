package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.CacheModel;
import dev.lengthwise.cache.FetchClock;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.FillOrder;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.Replacement;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Circuits of fetch units against the golden function, and that against the cache model. Every
 * build tries one of five units, in which every place of tags, place of pre-decode and replacement
 * is met; all take 10 s.
 */
@Slow
class FetchUnitCircuitTest {

  private static final int CYCLES = 4000;

  static List<FetchUnit> share() {
    return Extent.oneOf(5, units());
  }

  static List<FetchUnit> units() {
    List<FetchUnit> units = new ArrayList<>();
    int number = 0;
    for (TagPlace tags : TagPlace.values()) {
      for (int place = 0; place < 3; place++) {
        for (Replacement replacement : Replacement.values()) {
          units.add(unit(number++, tags, place, replacement));
        }
      }
    }
    return units;
  }

  /** Geometry, marking, cuts, order and beats turn with the number. */
  private static FetchUnit unit(int number, TagPlace tags, int place, Replacement replacement) {
    int[][] shapes = {
      {512, 2, 32, 16, 8},
      {256, 4, 16, 12, 4},
      {256, 1, 32, 20, 8},
      {128, 4, 8, 12, 8},
      {512, 8, 16, 32, 4},
      {384, 3, 16, 16, 8},
      {128, 4, 32, 64, 8},
    };
    int[] shape = shapes[number % shapes.length];
    if (replacement == Replacement.TREE_PLRU && Integer.bitCount(shape[1]) != 1) {
      shape = shapes[0];
    }
    int window = shape[4];
    List<Marking> markings =
        List.of(Marking.fullRipple(), Marking.fullLogarithmic(), Marking.first(2));
    LaneArray.Builder row =
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), window)
            .end(place == 0 && number % 4 != 3 ? WindowEnd.NEXT_BYTES : WindowEnd.NOT_HANDLED)
            .marking(markings.get(number % 3));
    if ((number & 1) != 0) {
      row.cut(PipelineCut.AFTER_LANES);
    }
    if ((number & 2) != 0) {
      row.cut(PipelineCut.AFTER_MARKS);
    }
    LaneArray lanes = row.build();
    CacheGeometry geometry = new CacheGeometry(shape[0], shape[1], shape[2], shape[3], window);
    List<PredecodePlace> places =
        List.of(
            PredecodePlace.inline(),
            PredecodePlace.perWay(),
            PredecodePlace.onFill(lanes.answerBits()));
    InstructionCache cache =
        InstructionCache.named("cache", geometry)
            .tags(tags)
            .replacement(replacement)
            .predecode(places.get(place))
            .build();
    return FetchUnit.of("unit_" + number, cache, lanes)
        .withOrder(number / 2 % 2 == 0 ? FillOrder.IN_ORDER : FillOrder.CRITICAL_FIRST)
        .withBeatBytes(window >> number % 3);
  }

  @ParameterizedTest
  @MethodSource("share")
  void rom_randomCycles_agreesWithTheModel(FetchUnit unit) {
    check(unit, Realizer.on(DeviceProfile.sixInputDualOutput()).realize(unit, Style.ROM));
  }

  static void check(FetchUnit unit, Design design) {
    FetchBench bench = new FetchBench(design);
    FetchClock clock = bench.clock();
    CacheModel model = CacheModel.of(unit.cache());
    SplittableRandom random = new SplittableRandom(7);
    int range = 3 * unit.cache().geometry().capacityBytes();
    long mask = -1L >>> (Long.SIZE - unit.cache().geometry().addressBits());
    int modeWords = 1 << unit.row().lane().instructionSet().table().modes().size();
    byte[] beat = new byte[unit.beatBytes()];
    int[] counts = new int[5]; // windows, hits, misses, evictions, redirects during a fill
    for (int cycle = 0; cycle < CYCLES; cycle++) {
      random.nextBytes(beat);
      for (int i = 0; i < beat.length; i++) {
        beat[i] = (byte) (random.nextInt(4) == 0 ? beat[i] : beat[i] & 0x3f);
      }
      boolean lost = clock.isWaiting() && random.nextInt(12) == 0;
      FetchClock.Inputs in =
          new FetchClock.Inputs(
              random.nextInt(6) == 0,
              lost || random.nextInt(64) == 0,
              (random.nextLong(range) - 64) & mask,
              random.nextInt(modeWords),
              random.nextInt(64) == 0,
              random.nextInt(4) == 0,
              (random.nextLong(range) - 64) & mask,
              random.nextInt(3) > 0,
              random.nextInt(3) > 0);
      bench.cycle(in, beat);
      agreesOnAccess(clock, model);
      if (in.flush() && clock.isFlushReady()) {
        // No lookup begins between this cycle and the flush.
        if (in.flushAll()) {
          model.flush();
        } else {
          model.flush(in.flushAddress());
        }
      }
      counts[0] += clock.isShown() && !in.stall() ? 1 : 0;
      counts[1] += clock.isHit() ? 1 : 0;
      counts[2] += clock.isMiss() ? 1 : 0;
      counts[3] += clock.isEviction() ? 1 : 0;
      counts[4] += in.redirect() && clock.isFilling() ? 1 : 0;
    }
    for (int i = 0; i < counts.length; i++) {
      assertWithMessage("count %s", i).that(counts[i]).isGreaterThan(10);
    }
  }

  private static void agreesOnAccess(FetchClock clock, CacheModel model) {
    if (clock.isHit() || clock.isMiss()) {
      long evictions = model.evictions();
      boolean hit = model.access(clock.accessAddress());
      assertWithMessage("hit at %s", clock.accessAddress()).that(clock.isHit()).isEqualTo(hit);
      assertWithMessage("eviction at %s", clock.accessAddress())
          .that(clock.isEviction())
          .isEqualTo(model.evictions() > evictions);
    }
  }
}

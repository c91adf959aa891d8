package dev.lengthwise.testbench;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.FillOrder;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.Replacement;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.List;

/**
 * The fetch units of the tests: every place of tags with every place of pre-decode and every
 * replacement, while geometry, marking, pipeline cuts, window end, order of filling and beats turn.
 */
final class FetchUnits {

  /** Capacity, ways, line, address bits, window. */
  private static final int[][] SHAPES = {
    {512, 2, 32, 16, 8},
    {256, 4, 16, 12, 4},
    {128, 1, 32, 20, 8},
    {128, 4, 8, 12, 8},
    {512, 8, 16, 32, 4},
    {192, 3, 16, 16, 8},
    {64, 4, 16, 64, 8},
  };

  private FetchUnits() {}

  /** A set with every part that a row of lanes can have, and few rows. */
  static InstructionSet set() {
    OperandSpecifier place =
        OperandSpecifier.named("place").when("0xxx_xxxx", 0).when("1xxx_xxxx", 1).build();
    return InstructionSet.of(
        LengthTable.named("ferry")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x3f)
                        .bytes(1)
                        .rows(0x40, 0x7f)
                        .bytes(2)
                        .specifier(place)
                        .rows(0x80, 0xbf)
                        .bytes(2)
                        .grows("wide", 2)
                        .others()
                        .undefined())
            .build(),
        PrefixRules.builder().flips(0xf0, "wide").inert(0xf1).most(3).build(),
        8);
  }

  /** Returns 24 units. */
  static List<FetchUnit> all() {
    List<FetchUnit> units = new ArrayList<>();
    for (TagPlace tags : TagPlace.values()) {
      for (int place = 0; place < 3; place++) {
        for (Replacement replacement : Replacement.values()) {
          units.add(unit(units.size(), tags, place, replacement));
        }
      }
    }
    return units;
  }

  private static FetchUnit unit(int number, TagPlace tags, int place, Replacement replacement) {
    int[] shape = SHAPES[number % SHAPES.length];
    if (!replacement.fits(shape[1])) {
      shape = SHAPES[0];
    }
    int window = shape[4];
    List<Marking> markings =
        List.of(Marking.fullRipple(), Marking.fullLogarithmic(), Marking.first(2));
    LaneArray.Builder row =
        LaneArray.builder(Predecoder.builder(set()).build(), window)
            .name("row_" + number)
            .end(place == 0 && number % 4 != 3 ? WindowEnd.NEXT_BYTES : WindowEnd.NOT_HANDLED)
            .marking(markings.get(number % 3));
    if ((number & 1) != 0) {
      row.cut(PipelineCut.AFTER_LANES);
    }
    if ((number & 2) != 0) {
      row.cut(PipelineCut.AFTER_MARKS);
    }
    LaneArray lanes = row.build();
    List<PredecodePlace> places =
        List.of(
            PredecodePlace.inline(),
            PredecodePlace.perWay(),
            PredecodePlace.onFill(lanes.answerBits()));
    InstructionCache cache =
        InstructionCache.named(
                "cache", new CacheGeometry(shape[0], shape[1], shape[2], shape[3], window))
            .tags(tags)
            .replacement(replacement)
            .predecode(places.get(place))
            .build();
    return FetchUnit.of("unit_" + number, cache, lanes)
        .withOrder(number / 2 % 2 == 0 ? FillOrder.IN_ORDER : FillOrder.CRITICAL_FIRST)
        .withBeatBytes(window >> number % 3);
  }
}

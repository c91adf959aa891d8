package dev.lengthwise.testbench;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * A lane, a row and a fetch unit whose table, modes, maps, specifiers, lane, row and unit are all
 * called as names of ours.
 */
final class ScannedDesigns {

  private static final List<Marking> MARKINGS =
      List.of(Marking.fullRipple(), Marking.fullLogarithmic(), Marking.first(2));

  private final int number;
  private final Iterator<String> names;

  private ScannedDesigns(int number, Iterator<String> names) {
    this.number = number;
    this.names = names;
  }

  /** Tells whether a mode may be called so; others are refused where the table is built. */
  static boolean isMode(String name) {
    try {
      LengthTable.named("q")
          .mode(name)
          .map("r", map -> map.row(0).bytes(1).grows(name, 1).others().bytes(1))
          .build();
      return true;
    } catch (DescriptionException e) {
      String message = "mode " + name + ": the name must not be a port of the lanes, found " + name;
      if (e.getMessage().equals(message)) {
        return false;
      }
      throw e;
    }
  }

  /**
   * Makes the designs of a number: what it calls first turns with the number, so that as many
   * numbers as there are names call each of them everything.
   */
  static List<Design> of(int number, List<String> all, List<String> modes) {
    Set<String> chosen = new LinkedHashSet<>();
    for (int i = 0; i < 4; i++) {
      chosen.add(modes.get((number * 4 + i) % modes.size()));
    }
    for (int i = 0; chosen.size() < 7; i++) {
      // blocks that are the outermost of a design are not called as a port of it
      chosen.add(modes.get((number + i * 41) % modes.size()));
    }
    for (int i = 0; chosen.size() < 12; i++) {
      chosen.add(all.get((number + i * 53) % all.size()));
    }
    return new ScannedDesigns(number, chosen.iterator()).designs();
  }

  private List<Design> designs() {
    List<String> modes = next(4);
    String lane = names.next();
    String row = names.next();
    String unit = names.next();
    String table = names.next();
    List<String> specifiers = next(2);
    List<String> maps = next(2);
    InstructionSet set = set(table, modes, specifiers, maps);
    int place = number % 3;
    LaneArray.Builder builder =
        LaneArray.builder(Predecoder.builder(set).name(lane).build(), 4)
            .name(row)
            .end(place == 0 && number % 4 != 3 ? WindowEnd.NEXT_BYTES : WindowEnd.NOT_HANDLED)
            .marking(MARKINGS.get(number / 3 % 3));
    if (number % 2 == 1) {
      builder.cut(PipelineCut.AFTER_LANES).cut(PipelineCut.AFTER_MARKS);
    }
    LaneArray lanes = builder.build();
    PredecodePlace where =
        place < 2
            ? List.of(PredecodePlace.inline(), PredecodePlace.perWay()).get(place)
            : PredecodePlace.inline();
    InstructionCache cache =
        InstructionCache.named("cache", new CacheGeometry(64, 2, 8, 12, 4))
            .tags(number % 2 == 0 ? TagPlace.BLOCK_RAM : TagPlace.DISTRIBUTED_RAM)
            .predecode(where)
            .build();
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    Design first = realizer.realize(lanes.lane(), number % 25 == 4 ? Style.BANKED : Style.ROM);
    Design second = realizer.realize(lanes, first);
    return List.of(first, second, realizer.realize(FetchUnit.of(unit, cache, lanes), second));
  }

  private List<String> next(int count) {
    List<String> taken = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      taken.add(names.next());
    }
    return taken;
  }

  /** A set in which every mode, map and specifier matters to a block inside. */
  private static InstructionSet set(
      String name, List<String> modes, List<String> specifiers, List<String> maps) {
    OperandSpecifier near =
        OperandSpecifier.named(specifiers.get(0))
            .when("0xxx_xxxx", 0)
            .when(ModeCondition.off(modes.get(2)), "1xxx_xxxx", 1)
            .when(ModeCondition.on(modes.get(2)), "1xxx_xxxx", 2)
            .build();
    OperandSpecifier far =
        OperandSpecifier.named(specifiers.get(1))
            .when(ModeCondition.ALWAYS, "0xxx_xxxx", "xxxx_xxx0", 1)
            .when(ModeCondition.ALWAYS, "0xxx_xxxx", "xxxx_xxx1", 0)
            .when("1xxx_xxxx", 1)
            .build();
    LengthTable.Builder table = LengthTable.named(name);
    modes.forEach(table::mode);
    table
        .map(
            maps.get(0),
            map ->
                map.rows(0x00, 0x3f)
                    .bytes(1)
                    .rows(0x40, 0x5f)
                    .bytes(2)
                    .specifier(near)
                    .rows(0x60, 0x6f)
                    .bytes(2)
                    .grows(modes.get(0), 1)
                    .rows(0x70, 0x7f)
                    .bytes(1)
                    .grows(modes.get(1), 1)
                    .row(0x80)
                    .byNextByte(
                        next -> {
                          next.when("0xxx_xxxx").bytes(2);
                          next.others().undefined();
                        })
                    .row(0x81)
                    .escape(maps.get(1))
                    .others()
                    .undefined())
        .map(
            maps.get(1),
            map ->
                map.rows(0x00, 0x0f)
                    .bytes(3)
                    .specifier(far)
                    .rows(0x10, 0x1f)
                    .bytes(2)
                    .grows(modes.get(3), 1)
                    .others()
                    .undefined());
    return InstructionSet.of(
        table.build(),
        PrefixRules.builder().flips(0xf0, modes.get(0)).sets(0xf1, modes.get(2)).most(2).build(),
        8);
  }
}

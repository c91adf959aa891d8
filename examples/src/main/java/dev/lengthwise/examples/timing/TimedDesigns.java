package dev.lengthwise.examples.timing;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.FetchRow;
import dev.lengthwise.examples.set.Tidegate;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Supplier;

/** The rows of lanes and fetch units whose clocks are measured: by marking, by cut, by ways. */
public final class TimedDesigns {

  private TimedDesigns() {}

  /**
   * Returns them by their names.
   *
   * @return what makes each
   */
  public static Map<String, Supplier<Design>> all() {
    Predecoder tidegate = Tidegate.lane();
    Predecoder sluice = TimedLane.sluice();
    Predecoder ia32 = NamedSet.of("ia32_defined").lane();
    LaneArray.Builder joined = row(tidegate, 8).marking(Marking.fullLogarithmic());
    Map<String, Supplier<Design>> designs = new LinkedHashMap<>();
    put(designs, "tidegate_row", FetchRow.of(tidegate));
    put(designs, "tidegate_row_ripple", row(tidegate, 8).build());
    put(designs, "tidegate_row_joined", joined.build());
    put(designs, "tidegate_row_joined_cut", cut(joined.build().toBuilder()));
    put(designs, "tidegate_row_first_two", row(tidegate, 8).marking(Marking.first(2)).build());
    put(designs, "tidegate_row_by_entry", byEntry(tidegate, 8, 2));
    put(designs, "tidegate_row_by_entry_sixteen", byEntry(tidegate, 16, 2));
    put(designs, "tidegate_row_four", row(tidegate, 4).build());
    put(designs, "sluice_row", row(sluice, 8).build());
    put(designs, "sluice_row_cut", cut(row(sluice, 8)));
    put(designs, "ia32_row_cut", cut(row(ia32, 8)));
    LaneArray whole = FetchRow.of(tidegate);
    put(designs, "tidegate_fetch_unit", whole, 2);
    put(designs, "tidegate_fetch_unit_four_ways", whole, 4);
    put(designs, "sluice_fetch_unit", cut(row(sluice, 8)), 2);
    return designs;
  }

  private static LaneArray.Builder row(Predecoder lane, int windowBytes) {
    return LaneArray.builder(lane, windowBytes);
  }

  private static LaneArray byEntry(Predecoder lane, int windowBytes, int levels) {
    int inputs = DeviceProfile.fourInput().lutInputs();
    return row(lane, windowBytes).marking(Marking.byEntry(levels, inputs)).build();
  }

  private static LaneArray cut(LaneArray.Builder row) {
    return row.cut(PipelineCut.AFTER_LANES).build();
  }

  private static Realizer realizer() {
    return Realizer.on(DeviceProfile.fourInput());
  }

  private static void put(Map<String, Supplier<Design>> designs, String name, LaneArray row) {
    LaneArray named = row.toBuilder().name(name).build();
    designs.put(name, () -> realizer().realize(named, Style.BANKED));
  }

  private static void put(
      Map<String, Supplier<Design>> designs, String name, LaneArray row, int ways) {
    CacheGeometry geometry = new CacheGeometry(1024 * ways, ways, 16, 20, row.windowBytes());
    InstructionCache cache =
        InstructionCache.named(name + "_cache", geometry).tags(TagPlace.BLOCK_RAM).build();
    designs.put(name, () -> realizer().realize(FetchUnit.of(name, cache, row), Style.BANKED));
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.sweep.Variant;
import java.util.List;

/** The lanes of an instruction set that a study tries, in one front end. */
final class StudyLadder {

  private StudyLadder() {}

  /** A window of 16 bytes, a cache of 8 KiB. */
  static FrontEnd frontEnd(int decoder) {
    CacheGeometry geometry =
        CacheGeometry.builder(8192).ways(2).lineBytes(32).windowBytes(16).build();
    return FrontEnd.builder(16)
        .decoder(decoder)
        .queue(48)
        .slowPath(6)
        .redirect(1)
        .cache(InstructionCache.named("icache", geometry).build(), 12)
        .build();
  }

  /** Returns the variants, leanest first, named as their lanes are behind the name of the table. */
  static List<Variant> variants(
      NamedSet set, Style style, UndefinedRows undefined, FrontEnd frontEnd) {
    String start = set.instructionSet().table().name() + "_";
    return set.lanes(undefined).stream()
        .map(
            lane ->
                new Variant(
                    lane.name().startsWith(start)
                        ? lane.name().substring(start.length())
                        : lane.name(),
                    lane,
                    style,
                    DeviceProfile.sixInputDualOutput(),
                    frontEnd))
        .toList();
  }
}

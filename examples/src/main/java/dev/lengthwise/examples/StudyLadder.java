package dev.lengthwise.examples;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.sweep.Variant;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.List;

/**
 * IA-32 lanes made by hand, from the opcode's length alone to everything with folded prefixes, in
 * one front end.
 */
final class StudyLadder {

  private static final List<Predecoder.LeftOut> VEX =
      List.of(new Predecoder.LeftOut("one_byte", 0xc4, 0xc5));

  private static final List<Predecoder.LeftOut> THREE_BYTE =
      List.of(
          new Predecoder.LeftOut("two_byte", 0x38, 0x38),
          new Predecoder.LeftOut("two_byte", 0x3a, 0x3a));

  private static final List<Predecoder.LeftOut> TWO_BYTE =
      List.of(new Predecoder.LeftOut("one_byte", 0x0f, 0x0f));

  private static final List<Predecoder.LeftOut> X87 =
      List.of(new Predecoder.LeftOut("one_byte", 0xd8, 0xdf));

  private final InstructionSet set = Ia32.instructionSet();
  private final Style style;
  private final UndefinedRows undefined;
  private final FrontEnd frontEnd;
  private final List<Variant> variants = new ArrayList<>();

  private StudyLadder(Style style, UndefinedRows undefined, FrontEnd frontEnd) {
    this.style = style;
    this.undefined = undefined;
    this.frontEnd = frontEnd;
  }

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

  /** Returns the variants, leanest first. */
  static List<Variant> variants(Style style, UndefinedRows undefined, FrontEnd frontEnd) {
    StudyLadder ladder = new StudyLadder(style, undefined, frontEnd);
    PrefixTreatment none = PrefixTreatment.NOT_HANDLED;
    PrefixTreatment each = PrefixTreatment.ONE_UNIT_EACH;
    ladder.add("opcode", none, SpecifierDepth.NONE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("opcode_prefix", each, SpecifierDepth.NONE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("opcode_two_byte", each, SpecifierDepth.NONE, VEX, THREE_BYTE);
    ladder.add("modrm", each, SpecifierDepth.BYTE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("modrm_two_byte", each, SpecifierDepth.BYTE, VEX, THREE_BYTE);
    ladder.add("sib", each, SpecifierDepth.INDEX_BYTE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("sib_two_byte", each, SpecifierDepth.INDEX_BYTE, VEX, THREE_BYTE);
    ladder.add("groups", each, SpecifierDepth.EVERYTHING, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("groups_two_byte", each, SpecifierDepth.EVERYTHING, VEX, THREE_BYTE, X87);
    ladder.add("x87_two_byte", each, SpecifierDepth.EVERYTHING, VEX, THREE_BYTE);
    ladder.add("x87_three_byte", each, SpecifierDepth.EVERYTHING, VEX);
    ladder.add("all_rows", each, SpecifierDepth.EVERYTHING);
    ladder.add("folded1", PrefixTreatment.folded(1), SpecifierDepth.EVERYTHING);
    ladder.add("folded2", PrefixTreatment.folded(2), SpecifierDepth.EVERYTHING);
    return List.copyOf(ladder.variants);
  }

  @SafeVarargs
  private void add(
      String name,
      PrefixTreatment prefixes,
      SpecifierDepth depth,
      List<Predecoder.LeftOut>... leftOut) {
    Predecoder.Builder lane =
        Predecoder.builder(set)
            .name("ia32_" + name)
            .prefixes(prefixes)
            .depth(depth)
            .undefinedRows(undefined);
    for (List<Predecoder.LeftOut> rows : leftOut) {
      rows.forEach(r -> lane.leaveOut(r.map(), r.from(), r.to()));
    }
    variants.add(
        new Variant(name, lane.build(), style, DeviceProfile.sixInputDualOutput(), frontEnd));
  }
}

package dev.lengthwise.realize;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;

/** Invented instruction sets that together use every feature of a description. */
final class Sets {

  private static final OperandSpecifier PLACE =
      OperandSpecifier.named("place")
          .when("00xx_xxxx", 0)
          .when(ModeCondition.off("far"), "01xx_xxxx", 1)
          .when(ModeCondition.on("far"), "01xx_xxxx", "1xxx_xxxx", 3)
          .when(ModeCondition.on("far"), "01xx_xxxx", "0xxx_xxxx", 1)
          .when("1xxx_xxxx", 2)
          .build();

  /** Adds odd numbers of bytes, so that the lengths of a word-coded set are even. */
  private static final OperandSpecifier SPOT =
      OperandSpecifier.named("spot")
          .when("00xx_xxxx", 1)
          .when(ModeCondition.off("far"), "01xx_xxxx", 1)
          .when(ModeCondition.on("far"), "01xx_xxxx", "1xxx_xxxx", 5)
          .when(ModeCondition.on("far"), "01xx_xxxx", "0xxx_xxxx", 1)
          .when("1xxx_xxxx", 3)
          .build();

  private Sets() {}

  /** Byte-coded: three maps, a split row, two modes, four prefixes. */
  static InstructionSet bytes() {
    return InstructionSet.of(
        LengthTable.named("sample")
            .mode("wide")
            .mode("far")
            .map("base", Sets::base)
            .map("more", map -> map.rows("xxxx_xxx0").bytes(4).grows("far", 1).others().undefined())
            .map("near", map -> map.rows(0, 0x7f).bytes(3).specifier(PLACE).others().bytes(2))
            .build(),
        PrefixRules.builder()
            .flips(0xf0, "wide")
            .sets(0xf1, "far")
            .clears(0xf2, "far")
            .inert(0xf3)
            .most(4)
            .build(),
        9);
  }

  private static void base(OpcodeMap.Builder map) {
    map.rows(0x00, 0x0f)
        .bytes(1)
        .rows(0x10, 0x1f)
        .bytes(2)
        .grows("wide", 2)
        .rows(0x20, 0x2f)
        .bytes(3)
        .specifier(PLACE)
        .row(0x30)
        .byNextByte(
            next ->
                next.when("0000_xxxx")
                    .bytes(3)
                    .when("0001_xxxx")
                    .escape("more", 1)
                    .when("001x_xxxx")
                    .bytes(2)
                    .specifier(PLACE)
                    .others()
                    .undefined())
        .row(0x31)
        .escape("near")
        .rows("0100_xxxx")
        .bytes(5)
        .grows(ModeCondition.on("wide").and(ModeCondition.off("far")), -2)
        .others()
        .undefined();
  }

  /** Word-coded in either order, with a prefix word and a specifier byte. */
  static InstructionSet words(CodeUnit unit) {
    return InstructionSet.of(
        LengthTable.named("words")
            .unit(unit)
            .mode("far")
            .map(
                "base",
                map ->
                    map.rows("1001_00xx_xxxx_0000")
                        .bytes(4)
                        .grows("far", 2)
                        .rows("1000_xxxx_xxxx_xxxx")
                        .bytes(3)
                        .specifier(SPOT)
                        .rows(0x0000, 0x3fff)
                        .bytes(2)
                        .row(0x4afc)
                        .escape("more")
                        .others()
                        .undefined())
            .map("more", map -> map.rows("0000_0000_xxxx_xxxx").bytes(6).others().undefined())
            .build(),
        PrefixRules.builder().sets(0xf0f0, "far").most(1).build(),
        12);
  }
}

package dev.lengthwise.predecode;

import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;

/** An invented instruction set that uses every feature of a description. */
public final class SampleSet {

  private static final OperandSpecifier PLACE =
      OperandSpecifier.named("place")
          .when("00xx_xxxx", 0)
          .when(ModeCondition.off("far"), "01xx_xxxx", 1)
          .when(ModeCondition.on("far"), "01xx_xxxx", "1xxx_xxxx", 3)
          .when(ModeCondition.on("far"), "01xx_xxxx", "0xxx_xxxx", 1)
          .when("1xxx_xxxx", 2)
          .build();

  public static final InstructionSet SET =
      InstructionSet.of(
          LengthTable.named("sample")
              .mode("wide")
              .mode("far")
              .map("base", SampleSet::base)
              .map(
                  "more",
                  map -> map.rows("xxxx_xxx0").bytes(4).grows("far", 1).others().undefined())
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

  private SampleSet() {}

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
}

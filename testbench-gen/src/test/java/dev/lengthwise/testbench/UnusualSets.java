package dev.lengthwise.testbench;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;

/** Invented instruction sets that are legal and that hardly anybody would write. */
public final class UnusualSets {

  private UnusualSets() {}

  /** Three ways to the map far, one with a byte between, one by the byte that keys it. */
  public static InstructionSet joined() {
    OperandSpecifier place =
        OperandSpecifier.named("place").when("0xxx_xxxx", 0).when("1xxx_xxxx", 2).build();
    return InstructionSet.of(
        LengthTable.named("joined")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x1f)
                        .bytes(1)
                        .row(0x20)
                        .escape("left")
                        .row(0x21)
                        .escape("right")
                        .row(0x22)
                        .escape("far", 1)
                        .others()
                        .undefined())
            .map(
                "left", map -> map.row(0x40).escape("far").rows(0, 7).bytes(2).others().undefined())
            .map(
                "right",
                map ->
                    map.row(0x41)
                        .byNextByte(next -> next.when("1xxx_xxxx").bytes(4).others().escape("far"))
                        .others()
                        .bytes(3))
            .map(
                "far",
                map ->
                    map.rows(0x00, 0x3f)
                        .bytes(4)
                        .specifier(place)
                        .rows(0x40, 0x7f)
                        .bytes(3)
                        .grows("wide", 2)
                        .others()
                        .undefined())
            .build(),
        PrefixRules.builder().flips(0xf0, "wide").most(2).build(),
        9);
  }

  /** Word-coded, with two ways to a map. */
  public static InstructionSet joinedWords() {
    return InstructionSet.of(
        LengthTable.named("joined_words")
            .unit(CodeUnit.WORD_BIG_ENDIAN)
            .map(
                "base",
                map ->
                    map.row(1)
                        .escape("left")
                        .row(2)
                        .escape("right")
                        .rows(3, 9)
                        .bytes(2)
                        .others()
                        .undefined())
            .map("left", map -> map.row(1).escape("far").others().bytes(4))
            .map("right", map -> map.row(7).escape("far").others().bytes(6))
            .map("far", map -> map.rows(0, 0xff).bytes(8).others().undefined())
            .build(),
        PrefixRules.NONE,
        8);
  }

  /** No instruction at all. */
  public static InstructionSet nothing(PrefixRules prefixes) {
    return InstructionSet.of(
        LengthTable.named("nothing")
            .mode("wide")
            .map("base", map -> map.row(3).escape("more").others().undefined())
            .map("more", map -> map.others().undefined())
            .build(),
        prefixes,
        8);
  }
}

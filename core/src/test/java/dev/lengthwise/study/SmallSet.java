package dev.lengthwise.study;

import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import java.util.Random;

/** A small instruction set of the scenario of the lock gate, and code of it. */
public final class SmallSet {

  public static final InstructionSet SET = set();

  private SmallSet() {}

  private static InstructionSet set() {
    OperandSpecifier place =
        OperandSpecifier.named("place")
            .when("00xx_xxxx", 0)
            .when(ModeCondition.ALWAYS, "01xx_xxxx", "0xxx_xxxx", 1)
            .when(ModeCondition.ALWAYS, "01xx_xxxx", "1xxx_xxxx", 3)
            .when("1xxx_xxxx", 2)
            .build();
    LengthTable table =
        LengthTable.named("gate")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x2f)
                        .bytes(1)
                        .rows(0x30, 0x3f)
                        .bytes(2)
                        .rows(0x40, 0x4f)
                        .bytes(2)
                        .specifier(place)
                        .rows(0x50, 0x5f)
                        .bytes(3)
                        .grows("wide", 2)
                        .rows(0x60, 0x63)
                        .bytes(4)
                        .rows(0x64, 0x67)
                        .byNextByte(
                            next -> {
                              next.when("0xxx_xxxx").bytes(2);
                              next.when("10xx_xxxx").bytes(3).specifier(place);
                              next.others().undefined();
                            })
                        .row(0xe0)
                        .escape("more")
                        .others()
                        .undefined())
            .map(
                "more",
                map ->
                    map.rows(0x00, 0x1f)
                        .bytes(2)
                        .rows(0x20, 0x3f)
                        .bytes(3)
                        .specifier(place)
                        .rows("11xx_xxx1")
                        .bytes(6)
                        .others()
                        .undefined())
            .build();
    return InstructionSet.of(
        table, PrefixRules.builder().flips(0xf0, "wide").inert(0xf1).most(3).build(), 12);
  }

  /** Random bytes, so that all kinds of rows and prefixes are met, as code at an address. */
  public static CodeImage image(long seed, int bytes) {
    byte[] code = new byte[bytes];
    Random random = new Random(seed);
    for (int i = 0; i < bytes; i++) {
      int kind = random.nextInt(10);
      code[i] =
          (byte)
              (kind == 0
                  ? 0xf0 + random.nextInt(2)
                  : kind == 1 ? 0xe0 : kind < 8 ? random.nextInt(0x68) : random.nextInt(256));
    }
    return CodeImage.of(List.of(CodeImage.Section.of("code", 0x400, code)));
  }

  public static StudyStream stream(String name, long seed) {
    return StudyStream.ofImage(name, SET, 0, image(seed, 20_000));
  }
}

package dev.lengthwise.lane.function;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import dev.lengthwise.testing.WordSets;
import java.util.HexFormat;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class LaneFunctionsTest {

  private static final OperandSpecifier PLACE =
      OperandSpecifier.named("place")
          .when("00xx_xxxx", 0)
          .when(ModeCondition.off("wide"), "01xx_xxxx", 1)
          .when(ModeCondition.on("wide"), "01xx_xxxx", "1xxx_xxxx", 3)
          .when(ModeCondition.on("wide"), "01xx_xxxx", "0xxx_xxxx", 1)
          .when("1xxx_xxxx", 2)
          .build();

  private static LengthTable table() {
    return LengthTable.named("gates")
        .mode("wide")
        .map(
            "base",
            map ->
                map.rows(0x00, 0x3f)
                    .bytes(1)
                    .rows(0x40, 0x7f)
                    .bytes(2)
                    .specifier(PLACE)
                    .row(0x80)
                    .escape("more")
                    .row(0x81)
                    .byNextByte(
                        next ->
                            next.when("0000_xxxx")
                                .bytes(2)
                                .when("1xxx_xxxx")
                                .escape("deep", 1)
                                .others()
                                .undefined())
                    .row(0x82)
                    .byNextByte(next -> next.when("0000_xxxx").bytes(3).others().bytes(2))
                    .others()
                    .undefined())
        .map(
            "more",
            map ->
                map.rows(0x00, 0x7f)
                    .bytes(3)
                    .grows("wide", 2)
                    .rows(0x80, 0xbf)
                    .bytes(4)
                    .specifier(PLACE)
                    .others()
                    .undefined())
        .map("deep", map -> map.rows(0x00, 0x7f).bytes(4).specifier(PLACE).others().undefined())
        .build();
  }

  private static void assertSame(Predecoder lane, int points, int... firstBytes) {
    LaneModel model = LaneModel.of(lane);
    LaneFunction shape = LaneFunctions.of(LaneTable.of(lane, 0));
    for (int first : firstBytes) {
      assertSame(model, shape, points, first);
    }
  }

  private static void assertSame(LaneModel model, LaneFunction shape, int points, int firstByte) {
    Random random = new Random(7);
    for (int i = 0; i < points; i++) {
      byte[] memory = new byte[16];
      random.nextBytes(memory);
      if (random.nextInt(3) == 0) {
        memory[0] = (byte) firstByte;
      }
      int[] window = new int[shape.bytes()];
      for (int b = 0; b < window.length; b++) {
        window[b] = memory[b] & 0xff;
      }
      int modes = random.nextInt(shape.modeWords());
      int expected = model.lengthAt(modes, memory, 0);
      assertWithMessage("bytes %s modes %s", java.util.HexFormat.of().formatHex(memory), modes)
          .that(shape.length(window, modes))
          .isEqualTo(expected == LaneModel.ANYTHING ? LaneFunction.ANYTHING : expected);
    }
  }

  @Test
  void of_everyKindOfRow_sameFunctionAsTheModel() {
    InstructionSet set = InstructionSet.of(table(), PrefixRules.builder().build());
    for (UndefinedRows rows : UndefinedRows.values()) {
      Predecoder lane = Predecoder.builder(set).undefinedRows(rows).build();
      assertSame(lane, 20_000, 0x40, 0x80, 0x81, 0x82);
    }
  }

  @Test
  void of_byteThatTellsRowsApartAndKeysAMap_sameFunctionAsTheModel() {
    OperandSpecifier reach =
        OperandSpecifier.named("reach")
            .when("xxxx_xx0x", 1)
            .when(ModeCondition.off("wide"), "xxxx_xx1x", 3)
            .when(ModeCondition.on("wide"), "xxxx_xx1x", "xxxx_xxx0", 2)
            .when(ModeCondition.on("wide"), "xxxx_xx1x", "xxxx_xxx1", 0)
            .build();
    LengthTable table =
        LengthTable.named("joined")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.row(0x40)
                        .byNextByte(
                            next ->
                                next.when("10xx_xxxx")
                                    .bytes(3)
                                    .when("11xx_xxxx")
                                    .bytes(2)
                                    .specifier(reach)
                                    .others()
                                    .escape("far"))
                        .row(0x41)
                        .escape("far")
                        .others()
                        .bytes(1))
            .map(
                "far",
                map ->
                    map.rows(0x00, 0x1f)
                        .bytes(3)
                        .specifier(reach)
                        .rows(0x20, 0x2f)
                        .byNextByte(next -> next.when("0xxx_xxxx").bytes(4).others().undefined())
                        .rows(0x30, 0x37)
                        .escape("deep")
                        .others()
                        .undefined())
            .map("deep", map -> map.rows(0x00, 0x7f).bytes(5).others().undefined())
            .build();
    InstructionSet set = InstructionSet.of(table, PrefixRules.NONE);
    for (SpecifierDepth depth : SpecifierDepth.values()) {
      Predecoder lane = Predecoder.builder(set).depth(depth).build();
      assertSame(lane, 20_000, 0x40, 0x41);
    }
  }

  @Test
  void of_restrictedLane_sameFunctionAsTheModel() {
    InstructionSet set = InstructionSet.of(table(), PrefixRules.builder().build());
    Predecoder lane =
        Predecoder.builder(set).lookahead(1).longest(4).leaveOut("base", 0x10, 0x1f).build();
    assertSame(lane, 20_000, 0x44);
  }

  @Slow
  @Test
  void of_ia32_sameFunctionAsTheModel() {
    Predecoder lane =
        Predecoder.builder(Ia32.instructionSet()).undefinedRows(UndefinedRows.ANYTHING).build();
    assertSame(lane, 100_000, 0x0f, 0xc4, 0xc5, 0xf6, 0xf7);
  }

  /** Words, the byte behind them and what it leads to: each word of the first map, in each mode. */
  private static void assertSameAtEveryWord(InstructionSet set) {
    for (UndefinedRows rows : UndefinedRows.values()) {
      Predecoder lane = Predecoder.builder(set).undefinedRows(rows).build();
      LaneModel model = LaneModel.of(lane);
      LaneFunction shape = LaneFunctions.of(LaneTable.of(lane, 0));
      Random random = new Random(3);
      byte[] memory = new byte[32];
      int[] window = new int[shape.bytes()];
      for (int word = 0; word < set.table().unit().codes(); word++) {
        for (int modes = 0; modes < shape.modeWords(); modes++) {
          random.nextBytes(memory);
          set.table().unit().write(word, memory, 0);
          for (int b = 0; b < window.length; b++) {
            window[b] = memory[b] & 0xff;
          }
          int expected = model.lengthAt(modes, memory, 0);
          int found = shape.length(window, modes);
          if (found != (expected == LaneModel.ANYTHING ? LaneFunction.ANYTHING : expected)) {
            assertWithMessage("%s, word %s", set.table().name(), HexFormat.of().toHexDigits(word))
                .that(found)
                .isEqualTo(expected);
          }
        }
      }
    }
  }

  @Test
  void of_wordCodedSets_sameFunctionAsTheModelAtEveryWord() {
    assertSameAtEveryWord(WordSets.riscv());
    assertSameAtEveryWord(WordSets.t32());
    assertSameAtEveryWord(WordSets.weir(CodeUnit.WORD_BIG_ENDIAN));
    assertSameAtEveryWord(WordSets.weir(CodeUnit.WORD_LITTLE_ENDIAN));
    assertSameAtEveryWord(SampleSets.words(CodeUnit.WORD_LITTLE_ENDIAN));
  }

  @Test
  void of_wordCodedByteThatTellsRowsApartAndKeysAMap_sameFunctionAsTheModel() {
    OperandSpecifier odd =
        OperandSpecifier.named("odd")
            .when(ModeCondition.off("wide"), "xxxx_xx0x", 1)
            .when(ModeCondition.on("wide"), "xxxx_xx0x", "xxxx_xxx0", 1)
            .when(ModeCondition.on("wide"), "xxxx_xx0x", "xxxx_xxx1", 5)
            .when("xxxx_xx1x", 3)
            .build();
    for (CodeUnit unit : List.of(CodeUnit.WORD_BIG_ENDIAN, CodeUnit.WORD_LITTLE_ENDIAN)) {
      InstructionSet set =
          InstructionSet.of(
              LengthTable.named("keyed")
                  .unit(unit)
                  .mode("wide")
                  .map(
                      "base",
                      map ->
                          map.rows("0xxx_xxxx_xxxx_xxxx")
                              .byNextByte(
                                  next ->
                                      next.when("00xx_xxxx")
                                          .bytes(3)
                                          .specifier(odd)
                                          .when("01xx_xxxx")
                                          .bytes(2)
                                          .when("11xx_xxxx")
                                          .undefined()
                                          .others()
                                          .escape("far"))
                              .others()
                              .bytes(4)
                              .grows("wide", 2))
                  .map(
                      "far",
                      map ->
                          map.rows("100x_xxxx_xxxx_xxxx")
                              .bytes(5)
                              .specifier(odd)
                              .rows("1010_xxxx_0000_1111")
                              .byNextByte(next -> next.when("1xxx_xxxx").bytes(6).others().bytes(8))
                              .rows("0xxx_xxxx_xxxx_0011")
                              .bytes(7)
                              .specifier(odd)
                              .others()
                              .undefined())
                  .build(),
              PrefixRules.NONE,
              12);
      for (UndefinedRows rows : UndefinedRows.values()) {
        Predecoder lane = Predecoder.builder(set).undefinedRows(rows).build();
        assertSame(lane, 1_000, 0x00, 0x41, 0x7f, 0x80);
      }
    }
  }
}

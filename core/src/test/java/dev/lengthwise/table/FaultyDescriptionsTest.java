package dev.lengthwise.table;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import java.util.List;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.function.Executable;

/** Every rule of a description, with a description that breaks it and the message it gets. */
class FaultyDescriptionsTest {

  private record Fault(
      String name, Executable attempt, Class<? extends Exception> type, String message) {}

  private static LengthTable oneMap(Consumer<OpcodeMap.Builder> rows) {
    return LengthTable.named("gate").mode("wide").map("base", rows).build();
  }

  private static LengthTable plain() {
    return oneMap(map -> map.rows(0, 0x7f).bytes(2).others().undefined());
  }

  private static Fault value(String name, Executable attempt, String message) {
    return new Fault(name, attempt, IllegalArgumentException.class, message);
  }

  private static Fault order(String name, Executable attempt, String message) {
    return new Fault(name, attempt, IllegalStateException.class, message);
  }

  private static Fault context(String name, Executable attempt, String message) {
    return new Fault(name, attempt, DescriptionException.class, message);
  }

  @TestFactory
  Stream<DynamicTest> fault_isRejectedWithItsMessage() {
    return Stream.of(values(), orders(), maps(), rows(), specifiers(), sets(), lanes())
        .flatMap(List::stream)
        .map(
            fault ->
                DynamicTest.dynamicTest(
                    fault.name(),
                    () -> {
                      Exception thrown = assertThrows(fault.type(), fault.attempt());
                      assertThat(thrown.getClass()).isEqualTo(fault.type());
                      assertThat(thrown).hasMessageThat().isEqualTo(fault.message());
                    }));
  }

  private static List<Fault> values() {
    return List.of(
        value(
            "opcode past the last",
            () -> oneMap(map -> map.row(0x100)),
            "map base: an opcode must be in [0x00, 0xff], found 0x100"),
        value(
            "opcode negative",
            () -> oneMap(map -> map.rows(-1, 3)),
            "map base: an opcode must be in [0x00, 0xff], found 0xffffffff"),
        value(
            "range upside down",
            () -> oneMap(map -> map.rows(5, 3)),
            "rows: the last opcode must not be below the first, found 0x05-0x03"),
        value(
            "no bytes",
            () -> oneMap(map -> map.row(1).bytes(0)),
            "row: bytes must be in [1, 63], found 0"),
        value(
            "too many bytes",
            () -> oneMap(map -> map.row(1).bytes(64)),
            "row: bytes must be in [1, 63], found 64"),
        value(
            "pattern of 7 bits",
            () -> oneMap(map -> map.rows("0000_000")),
            "bit pattern: 8 or 16 characters 0, 1 or x are expected, found \"0000_000\""),
        value(
            "pattern with another letter",
            () -> BitPattern.parse("0000_000?"),
            "bit pattern: 8 or 16 characters 0, 1 or x are expected, found \"0000_000?\""),
        value(
            "pattern of 16 bits in a byte map",
            () -> oneMap(map -> map.rows("0000_0000_0000_0000")),
            "map base: a pattern must be 8 bits wide, found 0000_0000_0000_0000"),
        value(
            "next-byte pattern of 16 bits",
            () -> oneMap(map -> map.row(1).byNextByte(next -> next.when("0000_0000_0000_0000"))),
            "map base: a pattern of the next byte must be 8 bits wide, found 0000_0000_0000_0000"),
        value(
            "growth of nothing",
            () -> oneMap(map -> map.row(1).bytes(2).grows("wide", 0)),
            "growth: bytes must be in [-63, 63] and not 0, found 0"),
        value(
            "too much to skip",
            () -> oneMap(map -> map.row(1).escape("far", 4)),
            "escape to far: bytes to skip must be in [0, 3], found 4"),
        value(
            "mode twice",
            () -> LengthTable.named("gate").mode("wide").mode("wide"),
            "table gate: a mode is given once, found wide again"),
        value(
            "map twice",
            () -> LengthTable.named("gate").map("base", m -> {}).map("base", m -> {}),
            "table gate: a map is given once, found base again"),
        value(
            "mode with a reserved word",
            () -> LengthTable.named("gate").mode("signal"),
            "mode: a name must not be a reserved word of Verilog, VHDL or Java, found \"signal\""),
        value(
            "table name in capitals",
            () -> LengthTable.named("Gate"),
            "table: a name must be lower case letters, digits and underscores, first a letter, found"
                + " \"Gate\""),
        value(
            "prefix twice",
            () -> PrefixRules.builder().inert(0xf0, 0xf0),
            "prefix 0xf0: a prefix is given once, found it again"),
        value(
            "prefix with two effects on a mode",
            () -> PrefixRules.builder().sets(0xf0, "wide").flips(0xf0, "wide"),
            "prefix 0xf0: a prefix has one effect on a mode, found a second on wide"),
        value(
            "prefix past the last code",
            () -> PrefixRules.builder().inert(0x10000),
            "prefix: a code must be in [0x00, 0xffff], found 0x10000"),
        value(
            "too many prefixes allowed",
            () -> PrefixRules.builder().most(64),
            "prefixes: the most allowed must be in [0, 63], found 64"));
  }

  private static List<Fault> orders() {
    OperandSpecifier place = OperandSpecifier.named("place").when("xxxx_xxxx", 1).build();
    return List.of(
        order(
            "opcodes without a row, then others",
            () ->
                oneMap(
                    map -> {
                      map.row(1);
                      map.row(2).bytes(1);
                    }),
            "map base: opcodes need a row, found none for 0x01"),
        order(
            "growth of an escape",
            () -> oneMap(map -> map.row(1).escape("far").grows("wide", 1)),
            "map base: a growth follows a row of bytes, found Escape[map=far, skip=0]"),
        order(
            "specifier before any row",
            () -> oneMap(map -> map.specifier(place)),
            "map base: a specifier follows a row of bytes, found no row"),
        order(
            "two specifiers",
            () -> oneMap(map -> map.row(1).bytes(2).specifier(place).specifier(place)),
            "map base: a row has at most one specifier, found place after place"),
        order(
            "others twice",
            () -> oneMap(map -> map.others().undefined().others().undefined()),
            "map base: others is given once, found it again"),
        order(
            "case after others",
            () ->
                oneMap(
                    map ->
                        map.row(1)
                            .byNextByte(n -> n.others().undefined().when("xxxx_xxxx").bytes(2))),
            "map base: others comes last, found a case after it"),
        order(
            "next byte inside next byte",
            () -> oneMap(map -> map.row(1).byNextByte(n -> n.others().byNextByte(m -> {}))),
            "map base: a case of the next byte cannot depend on it again, found byNextByte"),
        order(
            "mode both on and off",
            () -> ModeCondition.on("wide").and(ModeCondition.off("wide")),
            "mode condition: a mode cannot be both 0 and 1, found wide"),
        order(
            "unit after a map",
            () -> LengthTable.named("gate").map("base", m -> {}).unit(CodeUnit.BYTE),
            "table gate: the code unit is set before the first map, found it after base"));
  }

  private static List<Fault> maps() {
    return List.of(
        context(
            "no map",
            () -> LengthTable.named("gate").build(),
            "table gate: at least one map is needed, found none"),
        context(
            "rows overlap",
            () ->
                oneMap(
                    map ->
                        map.rows(0, 0x1f).bytes(1).rows("0001_xxxx").bytes(2).others().undefined()),
            "map base: rows must not overlap, found 0x00-0x1f and 0001_xxxx at 0x10"),
        context(
            "opcodes without a row",
            () -> oneMap(map -> map.rows(0, 0xfd).bytes(1)),
            "map base: every opcode must have a row, found 2 without, the first 0xfe"),
        context(
            "escape to nowhere",
            () -> oneMap(map -> map.row(1).escape("far").others().undefined()),
            "map base, row 0x01: an escape must lead to a map of the table, found far"),
        context(
            "escape loop",
            () ->
                LengthTable.named("gate")
                    .map("base", map -> map.row(1).escape("far").others().undefined())
                    .map("far", map -> map.row(2).escape("base").others().undefined())
                    .build(),
            "map base: escapes must not lead back, found base -> far -> base"),
        context(
            "map without a way",
            () ->
                LengthTable.named("gate")
                    .map("base", map -> map.others().undefined())
                    .map("far", map -> map.others().undefined())
                    .build(),
            "map far: a map must be reached by an escape, found none"),
        context(
            "map at two distances",
            () ->
                LengthTable.named("gate")
                    .map(
                        "base",
                        map ->
                            map.row(1).escape("far").row(2).escape("far", 1).others().undefined())
                    .map("far", map -> map.others().undefined())
                    .build(),
            "map far: every way to a map must have the same length, found 1 and 2 bytes"),
        context(
            "two kinds of one name",
            () ->
                LengthTable.named("gate")
                    .mode("base")
                    .map("base", m -> m.others().undefined())
                    .build(),
            "map base: names must differ in the RTL, found the mode base"),
        context(
            "mode named as a port",
            () ->
                LengthTable.named("gate")
                    .mode("length")
                    .map("base", m -> m.others().undefined())
                    .build(),
            "mode length: the name must not be a port of the lanes, found length"));
  }

  private static List<Fault> rows() {
    return List.of(
        context(
            "unknown mode",
            () -> oneMap(map -> map.row(1).bytes(2).grows("far", 1).others().undefined()),
            "map base, row 0x01: a mode must be one of wide, found far"),
        context(
            "shrinks below its opcode",
            () -> oneMap(map -> map.row(1).bytes(2).grows("wide", -2).others().undefined()),
            "map base, row 0x01: bytes must be in [1, 63] under every mode, found 0"),
        context(
            "no room for the specifier",
            () ->
                oneMap(
                    map ->
                        map.row(1)
                            .bytes(1)
                            .specifier(OperandSpecifier.named("place").when("xxxx_xxxx", 0).build())
                            .others()
                            .undefined()),
            "map base, row 0x01: bytes must be in [2, 63] under every mode, found 1"),
        context(
            "next-byte patterns overlap",
            () ->
                oneMap(
                    map ->
                        map.row(1)
                            .byNextByte(
                                n ->
                                    n.when("0xxx_xxxx")
                                        .bytes(2)
                                        .when("x0xx_xxxx")
                                        .bytes(3)
                                        .others()
                                        .undefined())
                            .others()
                            .undefined()),
            "map base, row 0x01: patterns of the next byte must not overlap, found 0xxx_xxxx and"
                + " x0xx_xxxx"),
        context(
            "next-byte patterns incomplete",
            () ->
                oneMap(
                    map ->
                        map.row(1)
                            .byNextByte(n -> n.when("0xxx_xxxx").bytes(2))
                            .others()
                            .undefined()),
            "map base, row 0x01: patterns of the next byte must cover every byte, found none for"
                + " 0x80"));
  }

  private static List<Fault> specifiers() {
    return List.of(
        context(
            "cases overlap",
            () ->
                OperandSpecifier.named("place")
                    .when("xxxx_xxx0", 0)
                    .when("0000_xxxx", 1)
                    .when("xxxx_xxx1", 1)
                    .build(),
            """
            specifier place: cases must not overlap, found xxxx_xxx0 and 0000_xxxx
            specifier place: cases must not overlap, found 0000_xxxx and xxxx_xxx1"""),
        context(
            "case missing under a mode",
            () ->
                OperandSpecifier.named("place")
                    .when("xxxx_xxx0", 0)
                    .when(ModeCondition.on("wide"), "xxxx_xxx1", 1)
                    .build(),
            "specifier place: every byte must have a case, found none for 0x01 0x00 under wide=0"),
        value(
            "case adds too much",
            () -> OperandSpecifier.named("place").when("xxxx_xxxx", 17),
            "specifier case xxxx_xxxx: bytes must be in [0, 16], found 17"));
  }

  private static List<Fault> sets() {
    return List.of(
        context(
            "opcode both row and prefix",
            () -> InstructionSet.of(plain(), PrefixRules.builder().inert(0x10).build()),
            "instruction set gate, prefix 0x10: a code must not be both row and prefix, found row"
                + " 0x00-0x7f of map base"),
        context(
            "prefix of an unknown mode",
            () -> InstructionSet.of(plain(), PrefixRules.builder().flips(0xf0, "far").build()),
            "instruction set gate, prefix 0xf0: a mode must be one of wide, found far"),
        context(
            "prefix wider than the unit",
            () -> InstructionSet.of(plain(), PrefixRules.builder().inert(0x1f0).build()),
            "instruction set gate, prefix 0x1f0: a code must be in [0x00, 0xff], found 0x1f0"),
        context(
            "row above the longest",
            () -> InstructionSet.of(plain(), PrefixRules.NONE, 1),
            "instruction set gate, map base, row 0x00-0x7f: a row must not exceed the longest"
                + " instruction of 1 bytes, found 2"),
        context(
            "longest out of range",
            () -> InstructionSet.of(plain(), PrefixRules.NONE, 64),
            "instruction set gate: the longest instruction must be in [1, 63] bytes, found 64"));
  }

  private static List<Fault> lanes() {
    InstructionSet set = InstructionSet.of(plain(), PrefixRules.builder().inert(0xf0).build(), 8);
    return List.of(
        value(
            "lookahead out of range",
            () -> Predecoder.builder(set).lookahead(16),
            "lane of gate: lookahead must be in [0, 15] bytes, found 16"),
        value(
            "longest above the instruction set's",
            () -> Predecoder.builder(set).longest(9),
            "lane of gate: longest must be in [1, 8] bytes, found 9"),
        value(
            "row of no map left out",
            () -> Predecoder.builder(set).leaveOut("far", 0),
            "table gate: a map of the table is expected, found \"far\""),
        value(
            "rows left out upside down",
            () -> Predecoder.builder(set).leaveOut("base", 9, 8),
            "lane of gate, map base: opcodes to leave out must ascend in [0x00, 0xff], found"
                + " 0x09-0x08"),
        value(
            "treatment of what is no prefix",
            () -> Predecoder.builder(set).prefix(0xf1, PrefixTreatment.NOT_HANDLED),
            "lane of gate: a prefix of the instruction set is expected, found 0xf1"),
        order(
            "longest twice",
            () -> Predecoder.builder(set).longest(4).longest(5),
            "lane of gate: longest is given once, found 5 after 4"));
  }

  @Test
  void build_severalFaults_reportsAllInInputOrder() {
    LengthTable.Builder table =
        LengthTable.named("gate")
            .map("base", map -> map.rows(0, 9).bytes(1).row(5).escape("far").others().undefined())
            .map("near", map -> map.row(1).bytes(2).grows("wide", 1));
    assertThat(assertThrows(DescriptionException.class, table::build).faults())
        .containsExactly(
            "map base: rows must not overlap, found 0x00-0x09 and 0x05 at 0x05",
            "map near: every opcode must have a row, found 255 without, the first 0x00",
            "map base, row 0x05: an escape must lead to a map of the table, found far",
            "map near: a map must be reached by an escape, found none",
            "map near, row 0x01: there are no modes, found wide")
        .inOrder();
  }
}

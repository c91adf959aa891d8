package dev.lengthwise.table;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.WindowEnd;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.ObjectInputStream;
import java.io.ObjectOutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

/** What a record's own constructor refuses, as the builder does. */
class RecordsTest {

  private static final OpcodeMap BASE = map(CodeUnit.BYTE);

  private static OpcodeMap map(CodeUnit unit) {
    return LengthTable.named("gate")
        .unit(unit)
        .map("base", map -> map.rows(0, 0x7f).bytes(2).others().undefined())
        .build()
        .map("base");
  }

  private static LengthTable table(List<String> modes, OpcodeMap... maps) {
    return new LengthTable("gate", CodeUnit.BYTE, modes, List.of(maps));
  }

  private static final InstructionSet SET =
      InstructionSet.of(
          table(List.of("wide"), BASE),
          PrefixRules.builder().flips(0xf0, "wide").sets(0xf1, "wide").build(),
          8);

  private static void refused(Class<? extends Exception> type, Executable attempt, String message) {
    Exception thrown = assertThrows(type, attempt);
    assertThat(thrown.getClass()).isEqualTo(type);
    assertThat(thrown).hasMessageThat().isEqualTo(message);
  }

  private static void value(Executable attempt, String message) {
    refused(IllegalArgumentException.class, attempt, message);
  }

  private static void context(Executable attempt, String message) {
    refused(DescriptionException.class, attempt, message);
  }

  @Test
  void lengthTable_brokenParts_areRefused() {
    context(() -> table(List.of()), "table gate: at least one map is needed, found none");
    context(
        () -> table(List.of("wide", "wide"), BASE),
        "mode wide: names must differ in the RTL, found the mode wide");
    value(
        () -> table(List.of("Wide"), BASE),
        "mode: a name must be lower case letters, digits and underscores, first a letter,"
            + " found \"Wide\"");
    context(
        () -> table(List.of("a1", "a2", "a3", "a4", "a5", "a6", "a7", "a8", "a9"), BASE),
        "table gate: at most 8 modes are allowed, found 9");
    context(
        () -> table(List.of(), map(CodeUnit.WORD_BIG_ENDIAN)),
        "map base: the code unit must be BYTE as of the table, found WORD_BIG_ENDIAN");
    List<String> modes = new ArrayList<>(List.of("wide"));
    LengthTable table = table(modes, BASE);
    modes.add("far");
    assertThat(table.modes()).containsExactly("wide");
  }

  @Test
  void opcodeMap_codeOutOfRange_isRefused() {
    value(() -> BASE.row(256), "map base: an opcode must be in [0x00, 0xff], found 0x100");
    value(() -> BASE.groupOf(-1), "map base: an opcode must be in [0x00, 0xff], found 0xffffffff");
    value(() -> BASE.codes(2), "map base: a group must be in [0, 2), found 2");
    value(
        () -> new OpcodeSelector.Range(-1, 3),
        "rows: opcodes must be in [0x00, 0xffff], found 0xffffffff-0x03");
    assertThrows(
        NullPointerException.class, () -> new OpcodeMap.RowGroup(null, new Row.Undefined()));
  }

  @Test
  void operandSpecifier_brokenParts_areRefused() {
    OperandSpecifier.Case half =
        new OperandSpecifier.Case(
            BitPattern.parse("0xxx_xxxx"), Optional.empty(), ModeCondition.on("far"), 1);
    OperandSpecifier.Case rest =
        new OperandSpecifier.Case(
            BitPattern.parse("1xxx_xxxx"), Optional.empty(), ModeCondition.ALWAYS, 1);
    OperandSpecifier.Case other =
        new OperandSpecifier.Case(
            BitPattern.parse("0xxx_xxxx"), Optional.empty(), ModeCondition.off("far"), 0);
    context(
        () -> new OperandSpecifier("place", List.of(half, rest)),
        "specifier place: every byte must have a case, found none for 0x00 0x00 under far=0");
    OperandSpecifier whole = new OperandSpecifier("place", List.of(half, rest, other));
    value(
        () -> whole.added(0, 0, List.of("wide"), 0),
        "specifier place: the modes must be among those given, found cases [0xxx_xxxx under far=1,"
            + " 1xxx_xxxx, 0xxx_xxxx under far=0] and modes [wide]");
    OperandSpecifier.Builder many = OperandSpecifier.named("place");
    for (int i = 0; i < 40; i++) {
      many.when(ModeCondition.on("m" + i), "xxxx_xxxx", 1);
    }
    assertThat(assertThrows(DescriptionException.class, many::build).faults())
        .contains("specifier place: at most 8 modes are allowed, found 40");
  }

  @Test
  void prefixRules_brokenParts_areRefused() {
    PrefixRules.Prefix prefix = new PrefixRules.Prefix(0xf0, new TreeMap<>());
    value(
        () -> new PrefixRules(new TreeMap<>(Map.of(0xf1, prefix)), 1),
        "prefix 0xf0: a prefix must stand under its code, found it under 0xf1");
    value(
        () -> new PrefixRules(new TreeMap<>(Map.of(0xf0, prefix)), 64),
        "prefixes: the most allowed must be in [0, 63], found 64");
    value(
        () -> new PrefixRules.Prefix(0x10000, new TreeMap<>()),
        "prefix: a code must be in [0x00, 0xffff], found 0x10000");
    PrefixRules.Prefix flip =
        new PrefixRules.Prefix(0xf0, new TreeMap<>(Map.of("wide", PrefixRules.Effect.FLIP)));
    value(
        () -> flip.apply(List.of("far"), 0, 0),
        "prefix 0xf0: a mode must be one of [far], found wide");
  }

  @Test
  void rowByNextByte_brokenParts_areRefused() {
    Row.ByNextByte.Case rest = new Row.ByNextByte.Case(Optional.empty(), new Row.Undefined());
    refused(
        IllegalStateException.class,
        () -> new Row.ByNextByte(List.of(rest, rest)),
        "rows by the next byte: others comes last, found a case after it");
    Row.ByNextByte whole = new Row.ByNextByte(List.of(rest));
    value(
        () -> new Row.ByNextByte.Case(Optional.empty(), whole),
        "rows by the next byte: a case must not depend on it again, found byNextByte");
    value(
        () ->
            new Row.ByNextByte.Case(
                Optional.of(BitPattern.parse("0000_0000_0000_0000")), new Row.Undefined()),
        "rows by the next byte: a pattern must be 8 bits wide, found 0000_0000_0000_0000");
    value(
        () -> new Row.ByNextByte(List.of()).row(5),
        "rows by the next byte: every byte must have a case, found none for 0x05");
  }

  private static Predecoder lane(
      int lookahead, int longest, Map<Integer, PrefixTreatment> prefixes, int leftOut) {
    return new Predecoder(
        "gate_lane",
        SET,
        lookahead,
        longest,
        SpecifierDepth.BYTE,
        new TreeMap<>(prefixes),
        UndefinedRows.NOT_HANDLED,
        List.of(new Predecoder.LeftOut("base", 0, leftOut)));
  }

  @Test
  void predecoder_brokenParts_areRefused() {
    Map<Integer, PrefixTreatment> prefixes =
        Map.of(0xf0, PrefixTreatment.NOT_HANDLED, 0xf1, PrefixTreatment.NOT_HANDLED);
    assertThat(lane(1, 8, prefixes, 9).leavesOut("base", 9)).isTrue();
    value(
        () -> lane(16, 8, prefixes, 9),
        "lane of gate: lookahead must be in [0, 15] bytes, found 16");
    value(() -> lane(1, 9, prefixes, 9), "lane of gate: longest must be in [1, 8] bytes, found 9");
    value(
        () -> lane(1, 8, Map.of(), 9),
        "lane of gate: the prefixes of the instruction set must have a treatment each, found [] for"
            + " [0xf0, 0xf1]");
    context(
        () ->
            lane(
                1,
                8,
                Map.of(0xf0, PrefixTreatment.NOT_HANDLED, 0xf1, PrefixTreatment.ONE_UNIT_EACH),
                9),
        "lane of gate: prefixes of one mode must be treated alike, found NOT_HANDLED for 0xf0 and"
            + " ONE_UNIT_EACH for 0xf1 on wide");
    value(
        () -> lane(1, 8, prefixes, 0x100),
        "lane of gate, map base: opcodes to leave out must ascend in [0x00, 0xff], found"
            + " 0x00-0x100");
    value(
        () -> new Predecoder.LeftOut("base", 3, 2),
        "map base: opcodes to leave out must ascend from 0x00, found 0x03-0x02");
  }

  @Test
  void laneArray_brokenParts_areRefused() {
    Predecoder lane = Predecoder.builder(SET).build();
    value(
        () -> new LaneArray("row", lane, 33, WindowEnd.NEXT_BYTES, Marking.fullRipple(), Set.of()),
        "lane array of gate_lane: a window must be in [4, 32] bytes, found 33");
    context(
        () ->
            new LaneArray(
                "gate_lane", lane, 8, WindowEnd.NEXT_BYTES, Marking.fullRipple(), Set.of()),
        "lane array of gate_lane: array and lane must not share a name, found gate_lane");
    LaneArray row = LaneArray.builder(lane, 8).build();
    refused(
        IndexOutOfBoundsException.class,
        () -> row.laneAt(8),
        "lane array gate_lanes: a byte must be in [0, 8), found 8");
  }

  @Test
  void descriptionException_manyFaults_showsTwentyAndKeepsAll()
      throws IOException, ClassNotFoundException {
    LengthTable.Builder table = LengthTable.named("gate");
    table.map(
        "base",
        map -> {
          for (int code = 0; code < 25; code++) {
            map.row(code).escape("far" + code);
          }
          map.others().undefined();
        });
    DescriptionException thrown = assertThrows(DescriptionException.class, table::build);
    assertThat(thrown.faults()).hasSize(25);
    List<String> lines = thrown.getMessage().lines().toList();
    assertThat(lines.subList(0, 20)).isEqualTo(thrown.faults().subList(0, 20));
    assertThat(lines.get(20)).isEqualTo("and 5 more");
    assertThat(lines).hasSize(21);
    assertThat(new DescriptionException(thrown.faults().subList(0, 20)).getMessage().lines())
        .hasSize(20);
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ObjectOutputStream out = new ObjectOutputStream(bytes)) {
      out.writeObject(thrown);
    }
    try (ObjectInputStream in =
        new ObjectInputStream(new ByteArrayInputStream(bytes.toByteArray()))) {
      assertThat(((DescriptionException) in.readObject()).faults()).isEqualTo(thrown.faults());
    }
  }
}

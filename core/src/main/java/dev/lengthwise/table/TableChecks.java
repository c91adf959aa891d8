package dev.lengthwise.table;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** The rules that hold between the parts of a table. */
final class TableChecks {

  /** Names that every lane, row and cache has for ports of its own. */
  private static final Set<String> PORTS =
      Set.of(
          "address",
          "carry",
          "changed_modes",
          "clock",
          "code",
          "data",
          "enable",
          "handled",
          "length",
          "marks_valid",
          "next_code",
          "not_handled",
          "not_handled_offset",
          "ready",
          "redirect",
          "redirect_offset",
          "reset",
          "stall",
          "start",
          "valid",
          "waiting",
          "window");

  private final LengthTable table;
  private final List<String> faults = new ArrayList<>();
  private int[] offsets;

  private TableChecks(LengthTable table) {
    this.table = table;
  }

  static List<String> faults(LengthTable table) {
    TableChecks checks = new TableChecks(table);
    if (table.maps().isEmpty()) {
      checks.faults.add("table " + table.name() + ": at least one map is needed, found none");
      return checks.faults;
    }
    checks.sizes();
    checks.names();
    checks.escapes();
    for (int i = 0; i < table.maps().size(); i++) {
      checks.rows(table.maps().get(i), Math.max(0, checks.offsets[i]));
    }
    return checks.faults;
  }

  /** Returns the rows that a row can turn out to be. */
  static Stream<Row> leaves(Row row) {
    return row instanceof Row.ByNextByte next
        ? next.cases().stream().map(Row.ByNextByte.Case::row)
        : Stream.of(row);
  }

  private void sizes() {
    if (table.modes().size() > LengthTable.MOST_MODES) {
      faults.add(
          "table %s: at most %d modes are allowed, found %d"
              .formatted(table.name(), LengthTable.MOST_MODES, table.modes().size()));
    }
    for (OpcodeMap map : table.maps()) {
      if (map.unit() != table.unit()) {
        faults.add(
            "map %s: the code unit must be %s as of the table, found %s"
                .formatted(map.name(), table.unit(), map.unit()));
      }
    }
  }

  private void names() {
    Map<String, String> owners = new LinkedHashMap<>();
    claim(owners, table.name(), "table");
    for (String mode : table.modes()) {
      claim(owners, mode, "mode");
      if (PORTS.contains(mode)) {
        faults.add("mode " + mode + ": the name must not be a port of the lanes, found " + mode);
      }
    }
    table.maps().forEach(map -> claim(owners, map.name(), "map"));
    Map<String, OperandSpecifier> byName = new LinkedHashMap<>();
    for (OperandSpecifier specifier : table.specifiers()) {
      if (byName.put(specifier.name(), specifier) != null) {
        faults.add(
            "specifier " + specifier.name() + ": two specifiers must not share a name, found two");
      } else {
        claim(owners, specifier.name(), "specifier");
      }
    }
  }

  private void claim(Map<String, String> owners, String name, String kind) {
    String before = owners.putIfAbsent(name, kind);
    if (before != null) {
      faults.add(
          kind + " " + name + ": names must differ in the RTL, found the " + before + " " + name);
    }
  }

  private void escapes() {
    Set<String> known = new LinkedHashSet<>();
    table.maps().forEach(map -> known.add(map.name()));
    for (OpcodeMap map : table.maps()) {
      for (OpcodeMap.RowGroup group : map.groups()) {
        leaves(group.row())
            .forEach(
                row -> {
                  if (row instanceof Row.Escape escape) {
                    escape("map %s, row %s".formatted(map.name(), group.selector()), escape, known);
                  }
                });
      }
    }
    offsets = MapOffsets.of(table.maps(), faults);
    for (int i = 0; i < offsets.length; i++) {
      if (offsets[i] == MapOffsets.UNREACHED) {
        faults.add(
            "map "
                + table.maps().get(i).name()
                + ": a map must be reached by an escape, found none");
      }
    }
  }

  private void escape(String subject, Row.Escape escape, Set<String> known) {
    if (!known.contains(escape.map())) {
      faults.add(subject + ": an escape must lead to a map of the table, found " + escape.map());
    }
    if (escape.skip() % table.unit().bytes() != 0) {
      faults.add(
          subject
              + ": bytes to skip must be even where code units are words, found "
              + escape.skip());
    }
  }

  private void rows(OpcodeMap map, int offset) {
    for (OpcodeMap.RowGroup group : map.groups()) {
      String subject = "map %s, row %s".formatted(map.name(), group.selector());
      if (group.row() instanceof Row.ByNextByte next) {
        patterns(subject, next);
      }
      leaves(group.row())
          .forEach(
              row -> {
                if (row instanceof Row.Instruction instruction) {
                  instruction(subject, instruction, offset + map.unit().bytes());
                }
              });
    }
  }

  private void patterns(String subject, Row.ByNextByte row) {
    int[] owner = new int[256];
    boolean rest = false;
    Set<String> overlaps = new LinkedHashSet<>();
    for (int i = 0; i < row.cases().size(); i++) {
      if (row.cases().get(i).pattern().isEmpty()) {
        rest = true;
        continue;
      }
      BitPattern pattern = row.cases().get(i).pattern().get();
      for (int value = 0; value < 256; value++) {
        if (pattern.matches(value)) {
          if (owner[value] != 0) {
            overlaps.add(
                "%s: patterns of the next byte must not overlap, found %s and %s"
                    .formatted(
                        subject, row.cases().get(owner[value] - 1).pattern().get(), pattern));
          }
          owner[value] = i + 1;
        }
      }
    }
    faults.addAll(overlaps);
    for (int value = 0; value < 256 && !rest; value++) {
      if (owner[value] == 0) {
        faults.add(
            String.format(
                Locale.ROOT,
                "%s: patterns of the next byte must cover every byte, found none for 0x%02x",
                subject,
                value));
        return;
      }
    }
  }

  private void instruction(String subject, Row.Instruction row, int opcodeBytes) {
    Set<String> unknown = new LinkedHashSet<>();
    row.growths().forEach(growth -> unknown.addAll(growth.when().required().keySet()));
    row.specifier()
        .ifPresent(s -> s.cases().forEach(c -> unknown.addAll(c.when().required().keySet())));
    table.modes().forEach(unknown::remove);
    unknown.forEach(mode -> faults.add(subject + ": " + table.modeChoice() + ", found " + mode));
    int least = opcodeBytes + (row.specifier().isPresent() ? 1 : 0);
    for (int modes = 0; modes < 1 << table.modes().size(); modes++) {
      int bytes = row.bytesUnder(table.modes(), modes);
      if (bytes < least || bytes > Row.LONGEST) {
        faults.add(
            "%s: bytes must be in [%d, %d] under every mode, found %d"
                .formatted(subject, least, Row.LONGEST, bytes));
        return;
      }
    }
    if (table.unit() != CodeUnit.BYTE) {
      evenLengths(subject, row);
    }
  }

  /** Words stand at even places, so that an odd length would put the next one astride two. */
  private void evenLengths(String subject, Row.Instruction row) {
    for (int modes = 0; modes < 1 << table.modes().size(); modes++) {
      int word = modes;
      int bytes = row.bytesUnder(table.modes(), modes);
      IntStream lengths =
          row.specifier()
              .map(
                  s ->
                      s.cases().stream()
                          .filter(c -> c.when().holds(table.modes(), word))
                          .mapToInt(c -> bytes + c.bytes()))
              .orElse(IntStream.of(bytes));
      OptionalInt odd = lengths.filter(length -> length % 2 != 0).findFirst();
      if (odd.isPresent()) {
        faults.add(
            "%s: lengths must be even where code units are words, found %d"
                .formatted(subject, odd.getAsInt()));
        return;
      }
    }
  }
}

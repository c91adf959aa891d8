package dev.lengthwise.table;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalInt;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/** The rules that hold between the parts of a table. */
final class TableChecks {

  /**
   * The ports that a lane, a row of lanes or a fetch unit can have beside the modes, and {@code
   * address}: functions in blocks inside have an argument of that name, and Verilator warns of a
   * port around them that it hides.
   */
  private static final Pattern PORTS =
      Pattern.compile(
          "access_evicts|access_hit|access_miss|address|beat|beat_valid|carry|changed_modes|clock|code|flush"
              + "|flush_address|flush_all|flush_ready|length|marks_valid|next_code|not_handled"
              + "|not_handled_offset|ready|redirect|redirect_address|redirect_offset"
              + "|request_address|request_ready|request_valid|reset|reset_n|stall|start|valid"
              + "|waiting|window|window_address|(found|length|position)_[0-9]+");

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

  /** Tells whether a lane, a row or a fetch unit may have a port of that name. */
  static boolean isPort(LengthTable table, String name) {
    return PORTS.matcher(name).matches() || table.modes().contains(name);
  }

  private void sizes() {
    if (table.modes().size() > LengthTable.MOST_MODES) {
      faults.add(
          String.format(
              Locale.ROOT,
              "table %s: at most %d modes are allowed, found %d",
              table.name(),
              LengthTable.MOST_MODES,
              table.modes().size()));
    }
    for (OpcodeMap map : table.maps()) {
      if (map.unit() != table.unit()) {
        faults.add(
            String.format(
                Locale.ROOT,
                "map %s: the code unit must be %s as of the table, found %s",
                map.name(),
                table.unit(),
                map.unit()));
      }
    }
  }

  private void names() {
    Map<String, String> owners = new LinkedHashMap<>();
    claim(owners, table.name(), "table");
    for (String mode : table.modes()) {
      claim(owners, mode, "mode");
      if (PORTS.matcher(mode).matches()) {
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
                    escape(
                        String.format(Locale.ROOT, "map %s, row %s", map.name(), group.selector()),
                        escape,
                        known);
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
      String subject = String.format(Locale.ROOT, "map %s, row %s", map.name(), group.selector());
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
                String.format(
                    Locale.ROOT,
                    "%s: patterns of the next byte must not overlap, found %s and %s",
                    subject,
                    row.cases().get(owner[value] - 1).pattern().get(),
                    pattern));
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
            String.format(
                Locale.ROOT,
                "%s: bytes must be in [%d, %d] under every mode, found %d",
                subject,
                least,
                Row.LONGEST,
                bytes));
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
            String.format(
                Locale.ROOT,
                "%s: lengths must be even where code units are words, found %d",
                subject,
                odd.getAsInt()));
        return;
      }
    }
  }
}

package dev.lengthwise.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * A full description of instruction lengths: tables, prefixes and the longest legal instruction.
 *
 * @param table the length tables
 * @param prefixes the prefix rules
 * @param longest the longest legal instruction with its prefixes, in bytes, in [1, {@value
 *     Row#LONGEST}]
 */
public record InstructionSet(LengthTable table, PrefixRules prefixes, int longest) {

  /**
   * Checks for null; the factories have checked the rest.
   *
   * @param table see InstructionSet
   * @param prefixes see InstructionSet
   * @param longest see InstructionSet
   */
  public InstructionSet {
    Objects.requireNonNull(table, "table");
    Objects.requireNonNull(prefixes, "prefixes");
    DescriptionException.throwIfAny(faults(table, prefixes, longest));
  }

  /**
   * Returns an instruction set without a limit below {@value Row#LONGEST} bytes.
   *
   * @param table the length tables
   * @param prefixes the prefix rules
   * @return the instruction set
   * @throws DescriptionException if the two contradict each other
   */
  public static InstructionSet of(LengthTable table, PrefixRules prefixes) {
    return new InstructionSet(table, prefixes, Row.LONGEST);
  }

  /**
   * Returns an instruction set with a longest legal instruction.
   *
   * @param table the length tables
   * @param prefixes the prefix rules
   * @param longest in bytes, prefixes counted, in [1, {@value Row#LONGEST}]
   * @return the instruction set
   * @throws DescriptionException if the parts contradict each other
   */
  public static InstructionSet of(LengthTable table, PrefixRules prefixes, int longest) {
    return new InstructionSet(table, prefixes, longest);
  }

  /**
   * Returns the most bytes of any row under any modes, prefixes not counted.
   *
   * @return bytes; 0 if no row is an instruction
   */
  public int longestWithoutPrefixes() {
    return table.maps().stream()
        .flatMap(map -> map.groups().stream())
        .flatMap(group -> TableChecks.leaves(group.row()))
        .mapToInt(row -> most(table, row))
        .max()
        .orElse(0);
  }

  private static List<String> faults(LengthTable table, PrefixRules prefixes, int longest) {
    List<String> faults = new ArrayList<>();
    String subject = "instruction set " + table.name();
    if (longest < 1 || longest > Row.LONGEST) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: the longest instruction must be in [1, %d] bytes, found %d",
              subject,
              Row.LONGEST,
              longest));
    }
    OpcodeMap first = table.maps().get(0);
    for (PrefixRules.Prefix prefix : prefixes.prefixes().values()) {
      prefixFault(table, first, prefix, subject, faults);
    }
    for (OpcodeMap map : table.maps()) {
      for (OpcodeMap.RowGroup group : map.groups()) {
        int most =
            TableChecks.leaves(group.row()).mapToInt(row -> most(table, row)).max().orElse(0);
        if (most > longest) {
          faults.add(
              String.format(
                  Locale.ROOT,
                  "%s, map %s, row %s: a row must not exceed the longest instruction of %d bytes,"
                      + " found %d",
                  subject,
                  map.name(),
                  group.selector(),
                  longest,
                  most));
        }
      }
    }
    return faults;
  }

  private static void prefixFault(
      LengthTable table,
      OpcodeMap first,
      PrefixRules.Prefix prefix,
      String subject,
      List<String> faults) {
    String place = String.format(Locale.ROOT, "%s, prefix 0x%02x", subject, prefix.code());
    if (prefix.code() >= table.unit().codes()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: a code must be in [0x00, 0x%x], found 0x%x",
              place,
              table.unit().codes() - 1,
              prefix.code()));
    } else if (isNamed(first, prefix.code())) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: a code must not be both row and prefix, found row %s of map %s",
              place,
              first.groups().get(first.groupOf(prefix.code())).selector(),
              first.name()));
    }
    for (String mode : prefix.effects().keySet()) {
      if (!table.modes().contains(mode)) {
        faults.add(place + ": " + table.modeChoice() + ", found " + mode);
      }
    }
  }

  /**
   * Tells whether a row that is not undefined names the code; the rest of a map may hold prefixes.
   */
  private static boolean isNamed(OpcodeMap map, int code) {
    OpcodeMap.RowGroup group = map.groups().get(map.groupOf(code));
    return group.selector().names(code) && !(group.row() instanceof Row.Undefined);
  }

  /**
   * Returns the most bytes of a row under any modes, without prefixes; 0 if it is no instruction.
   */
  private static int most(LengthTable table, Row row) {
    if (!(row instanceof Row.Instruction instruction)) {
      return 0;
    }
    int most = 0;
    for (int modes = 0; modes < 1 << table.modes().size(); modes++) {
      int word = modes;
      int added =
          instruction
              .specifier()
              .map(
                  s ->
                      s.cases().stream()
                          .filter(c -> c.when().holds(table.modes(), word))
                          .mapToInt(OperandSpecifier.Case::bytes)
                          .max()
                          .orElse(0))
              .orElse(0);
      most = Math.max(most, instruction.bytesUnder(table.modes(), modes) + added);
    }
    return most;
  }
}

package dev.lengthwise.predecode;

import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SortedMap;

/** The rules of a lane's parts. */
final class LaneChecks {

  private final InstructionSet set;
  private final String subject;

  LaneChecks(InstructionSet set) {
    this.set = set;
    this.subject = "lane of " + set.table().name();
  }

  int lookahead(int bytes) {
    return inRange("lookahead", bytes, set.table().unit().bytes() - 1, Predecoder.MOST_LOOKAHEAD);
  }

  int longest(int bytes) {
    return inRange("longest", bytes, 1, set.longest());
  }

  private int inRange(String what, int value, int least, int most) {
    if (value < least || value > most) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s: %s must be in [%d, %d] bytes, found %d",
              subject,
              what,
              least,
              most,
              value));
    }
    return value;
  }

  void leftOut(Predecoder.LeftOut rows) {
    leftOut(rows.map(), rows.from(), rows.to());
  }

  void leftOut(String map, int from, int to) {
    int codes = set.table().map(map).unit().codes();
    if (from < 0 || to < from || to >= codes) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s, map %s: opcodes to leave out must ascend in [0x00, 0x%x], found 0x%02x-0x%02x",
              subject,
              map,
              codes - 1,
              from,
              to));
    }
  }

  /** Checks the parts against each other, once each is known to be in range. */
  void together(String name, SortedMap<Integer, PrefixTreatment> treatments) {
    if (!treatments.keySet().equals(set.prefixes().prefixes().keySet())) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s: the prefixes of the instruction set must have a treatment each, found %s for %s",
              subject,
              hex(treatments),
              hex(set.prefixes().prefixes())));
    }
    List<String> faults = new ArrayList<>();
    if (set.table().isPort(name)) {
      faults.add(subject + ": the name must not be that of a port, found " + name);
    }
    Map<String, Integer> firstOfMode = new LinkedHashMap<>();
    for (PrefixRules.Prefix prefix : set.prefixes().prefixes().values()) {
      for (String mode : prefix.effects().keySet()) {
        Integer first = firstOfMode.putIfAbsent(mode, prefix.code());
        if (first != null && treatments.get(first).kind() != treatments.get(prefix.code()).kind()) {
          faults.add(
              String.format(
                  Locale.ROOT,
                  "%s: prefixes of one mode must be treated alike, found %s for 0x%02x and %s for"
                      + " 0x%02x on %s",
                  subject,
                  treatments.get(first).kind(),
                  first,
                  treatments.get(prefix.code()).kind(),
                  prefix.code(),
                  mode));
        }
      }
    }
    DescriptionException.throwIfAny(faults);
  }

  /** A lane that may say anything of everything is no lane: nothing could be checked of it. */
  void undefinedRows(UndefinedRows rows, List<Predecoder.LeftOut> leftOut) {
    if (rows == UndefinedRows.ANYTHING
        && leftOut.isEmpty()
        && set.prefixes().prefixes().isEmpty()
        && set.longestWithoutPrefixes() == 0) {
      throw new IllegalStateException(
          subject + ": undefined rows must be not handled where no row is defined, found ANYTHING");
    }
  }

  private static List<String> hex(SortedMap<Integer, ?> byCode) {
    return byCode.keySet().stream().map(c -> String.format(Locale.ROOT, "0x%02x", c)).toList();
  }
}

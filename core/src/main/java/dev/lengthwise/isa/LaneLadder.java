package dev.lengthwise.isa;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Lanes of a set of which nothing but its description is known, from the opcode's length alone to
 * everything with folded prefixes. A rung that is the lane of one below it under another name, such
 * as one with prefixes where there are none, or further maps, or bytes to read, is left away.
 */
final class LaneLadder {

  private static final int MOST_FOLDED = 2;

  private final InstructionSet set;
  private final UndefinedRows undefined;
  private final boolean readsOn;
  private final List<Predecoder> lanes = new ArrayList<>();

  /** The lanes so far, all under one name. */
  private final Set<Predecoder> known = new HashSet<>();

  private LaneLadder(InstructionSet set, UndefinedRows undefined) {
    this.set = set;
    this.undefined = undefined;
    this.readsOn =
        set.table().maps().stream()
            .flatMap(map -> map.groups().stream())
            .anyMatch(group -> readsOn(group.row()));
  }

  /** Tells whether a row's length depends on bytes behind its opcode. */
  private static boolean readsOn(Row row) {
    return row instanceof Row.ByNextByte
        || row instanceof Row.Instruction instruction && instruction.specifier().isPresent();
  }

  /** Returns the lanes, the leanest first; there is at least one. */
  static List<Predecoder> of(InstructionSet set, UndefinedRows undefined) {
    LaneLadder ladder = new LaneLadder(set, undefined);
    PrefixTreatment each = PrefixTreatment.ONE_UNIT_EACH;
    ladder.add("opcode", PrefixTreatment.NOT_HANDLED, SpecifierDepth.NONE, false);
    ladder.add("opcode_prefix", each, SpecifierDepth.NONE, false);
    ladder.add("opcode_maps", each, SpecifierDepth.NONE, true);
    ladder.add("specifier", each, SpecifierDepth.BYTE, false);
    ladder.add("specifier_maps", each, SpecifierDepth.BYTE, true);
    ladder.add("index", each, SpecifierDepth.INDEX_BYTE, false);
    ladder.add("index_maps", each, SpecifierDepth.INDEX_BYTE, true);
    ladder.add("all_rows", each, SpecifierDepth.EVERYTHING, true);
    for (int most = 1; most <= Math.min(MOST_FOLDED, set.prefixes().most()); most++) {
      ladder.add("folded" + most, PrefixTreatment.folded(most), SpecifierDepth.EVERYTHING, true);
    }
    return List.copyOf(ladder.lanes);
  }

  /** Adds a lane; one without the further maps leaves the rows that lead to them out. */
  private void add(
      String rung, PrefixTreatment prefixes, SpecifierDepth depth, boolean furtherMaps) {
    if (known.add(lane("rung", prefixes, depth, furtherMaps))) {
      lanes.add(lane(rung, prefixes, depth, furtherMaps));
    }
  }

  private Predecoder lane(
      String rung, PrefixTreatment prefixes, SpecifierDepth depth, boolean furtherMaps) {
    Predecoder.Builder lane =
        Predecoder.builder(set)
            .name(set.table().name() + "_" + rung)
            .prefixes(prefixes)
            .depth(readsOn ? depth : SpecifierDepth.EVERYTHING)
            .undefinedRows(undefined);
    if (!furtherMaps) {
      leaveOutEscapes(lane);
    }
    return lane.build();
  }

  private void leaveOutEscapes(Predecoder.Builder lane) {
    OpcodeMap first = set.table().maps().get(0);
    for (int group = 0; group < first.groups().size(); group++) {
      if (first.groups().get(group).row() instanceof Row.Escape) {
        first.codes(group).forEach(code -> lane.leaveOut(first.name(), code));
      }
    }
  }
}

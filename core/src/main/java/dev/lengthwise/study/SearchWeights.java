package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** How often the lanes of a search are exact, summed by the units that instructions pass. */
final class SearchWeights {

  private final CodeStream stream;
  private final List<RowUnit> units;
  private final List<BitSet> unitsOfPath = new ArrayList<>();
  private final Map<LaneChoice, long[]> exactOfStart = new HashMap<>();

  SearchWeights(CodeStream stream, List<RowUnit> units) {
    this.stream = stream;
    this.units = units;
    for (List<OpcodePaths.Opcode> path : stream.answers().paths()) {
      BitSet passed = new BitSet();
      for (int unit = 0; unit < units.size(); unit++) {
        int u = unit;
        if (path.stream().anyMatch(opcode -> units.get(u).has(opcode))) {
          passed.set(unit);
        }
      }
      unitsOfPath.add(passed);
    }
  }

  /** Returns the executed instructions that a choice is exact for. */
  long exact(LaneChoice choice) {
    long[] byPath = byPath(choice);
    long sum = 0;
    for (int p = 0; p < byPath.length; p++) {
      if (byPath[p] > 0 && !unitsOfPath.get(p).intersects(choice.removed())) {
        sum += byPath[p];
      }
    }
    return sum;
  }

  private synchronized long[] byPath(LaneChoice choice) {
    LaneChoice all =
        new LaneChoice(
            choice.prefixes(),
            choice.depth(),
            choice.undefined(),
            choice.longest(),
            new BitSet());
    return exactOfStart.computeIfAbsent(
        all, a -> stream.answers().exactByPath(lane(a)));
  }

  private Predecoder lane(LaneChoice choice) {
    InstructionSet set = stream.instructionSet();
    return choice.lane("lane", set, units);
  }

  /** Returns the most bytes that a choice says of an item and is exact with. */
  int longestExact(LaneChoice choice) {
    return stream.answers().longestExact(lane(choice));
  }
}

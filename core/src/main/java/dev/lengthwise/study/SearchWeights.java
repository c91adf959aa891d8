package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/** How often the lanes of a search are exact, summed by the units that instructions pass. */
final class SearchWeights {

  private final StudyStream stream;
  private final List<RowUnit> units;
  private final List<BitSet> unitsOfPath = new ArrayList<>();
  private final Map<LaneChoice, long[]> exactOfStart = new HashMap<>();

  SearchWeights(StudyStream stream, List<RowUnit> units) {
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
            choice.prefixes(), choice.depth(), choice.undefined(), choice.longest(), new BitSet());
    return exactOfStart.computeIfAbsent(all, a -> stream.answers().exactByPath(lane(a)));
  }

  private Predecoder lane(LaneChoice choice) {
    InstructionSet set = stream.instructionSet();
    return choice.lane("lane", set, units);
  }

  /** Returns the units that a choice handles, those first whose removal loses least. */
  List<Integer> handled(LaneChoice choice) {
    return IntStream.range(0, units.size())
        .filter(u -> !choice.removed().get(u))
        .boxed()
        .sorted(Comparator.comparingLong((Integer u) -> loss(choice, u)))
        .toList();
  }

  /** Returns the instructions that a choice is exact for because of a unit. */
  long loss(LaneChoice choice, int unit) {
    return exact(choice) - exact(choice.without(List.of(unit)));
  }

  /** Returns the units with other maps or the next byte behind them, least used first. */
  List<Integer> forks(LaneChoice choice) {
    return handled(choice).stream().filter(u -> units.get(u).isFork()).toList();
  }

  /** Returns the units that lead to other maps, least used first. */
  List<Integer> escapes(LaneChoice choice) {
    return handled(choice).stream().filter(u -> units.get(u).isEscape()).toList();
  }

  /** Returns the most bytes that a choice says of an item and is exact with. */
  int longestExact(LaneChoice choice) {
    return stream.answers().longestExact(lane(choice));
  }
}

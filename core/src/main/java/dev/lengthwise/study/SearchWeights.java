package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/** How often the lanes of a search are exact. Not safe for use by several threads. */
final class SearchWeights {

  private final StudyStream stream;
  private final List<RowUnit> units;
  private final RowPrior prior;
  private final List<BitSet> rows;
  private final Map<LaneChoice, Predecoder> lanes = new HashMap<>();
  private final Map<LaneChoice, Long> known = new HashMap<>();
  private final Map<LaneChoice, Double> worths = new HashMap<>();

  SearchWeights(StudyStream stream, List<RowUnit> units, double prior) {
    this.stream = stream;
    this.units = units;
    this.prior = new RowPrior(stream, units, prior);
    this.rows = units.stream().map(u -> u.rows(stream.instructionSet().table())).toList();
  }

  /** Returns the executed instructions that a choice is exact for. */
  long exact(LaneChoice choice) {
    return known.computeIfAbsent(
        choice,
        c -> {
          BitSet leftOut = new BitSet();
          c.removed().stream().forEach(u -> leftOut.or(rows.get(u)));
          return stream.profile().exact(laneOfAllRows(c), leftOut);
        });
  }

  /** Returns what a choice is worth, in instructions: those it is exact for, and its prior. */
  double worth(LaneChoice choice) {
    return worths.computeIfAbsent(choice, c -> exact(c) + prior.worth(c));
  }

  private Predecoder laneOfAllRows(LaneChoice choice) {
    InstructionSet set = stream.instructionSet();
    LaneChoice all =
        new LaneChoice(
            choice.prefixes(), choice.depth(), choice.undefined(), choice.longest(), new BitSet());
    return lanes.computeIfAbsent(all, a -> a.lane("lane", set, units));
  }

  /** Returns the units that a choice handles, those first whose removal loses least. */
  List<Integer> handled(LaneChoice choice) {
    return IntStream.range(0, units.size())
        .filter(u -> !choice.removed().get(u))
        .boxed()
        .sorted(
            Comparator.comparingDouble(
                (Integer u) -> worth(choice) - worth(choice.without(List.of(u)))))
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

  /** Returns the longest item that a choice is exact for with all rows. */
  int longestExact(LaneChoice choice) {
    return stream.profile().longestExact(laneOfAllRows(choice));
  }
}

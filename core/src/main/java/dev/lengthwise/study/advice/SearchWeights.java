package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/** How often the lanes of a search are exact. Not safe for use by several threads. */
final class SearchWeights {

  private final StudyStream stream;
  private final List<RowUnit> units;
  private final ExpectedShare expected;
  private final List<BitSet> rows;
  private final List<List<Integer>> kin;
  private final Map<LaneChoice, Predecoder> lanes = new HashMap<>();
  private final Map<LaneChoice, Long> known = new HashMap<>();
  private final Map<LaneChoice, Double> worths = new HashMap<>();

  SearchWeights(StudyStream stream, List<RowUnit> units) {
    this.stream = stream;
    this.units = units;
    this.expected = new ExpectedShare(stream.profile(), stream.instructionSet(), units);
    this.rows = units.stream().map(u -> u.rows(stream.instructionSet().table())).toList();
    Map<List<Object>, List<Integer>> kin = new LinkedHashMap<>();
    for (int unit = 0; unit < units.size(); unit++) {
      kin.computeIfAbsent(
              units.get(unit).kind(stream.instructionSet().table()), k -> new ArrayList<>())
          .add(unit);
    }
    this.kin = List.copyOf(kin.values());
  }

  /** Returns the executed instructions that a choice is exact for. */
  long exact(LaneChoice choice) {
    Work.check();
    return known.computeIfAbsent(choice, c -> stream.profile().exact(laneOfAllRows(c), leftOut(c)));
  }

  /** Returns the share of unseen code that a choice is expected to be exact for. */
  double worth(LaneChoice choice) {
    Work.check();
    return worths.computeIfAbsent(choice, c -> expected.of(laneOfAllRows(c), leftOut(c)));
  }

  private BitSet leftOut(LaneChoice choice) {
    BitSet leftOut = new BitSet();
    choice.removed().stream().forEach(u -> leftOut.or(rows.get(u)));
    return leftOut;
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

  /** Returns the units that lead to other maps, as bits. */
  BitSet opening() {
    BitSet opening = new BitSet();
    IntStream.range(0, units.size()).filter(u -> units.get(u).isEscape()).forEach(opening::set);
    return opening;
  }

  /** Returns units of one map whose rows say the same, first units in order. */
  List<List<Integer>> kin() {
    return kin;
  }

  /** Returns the longest item that a choice is exact for with all rows. */
  int longestExact(LaneChoice choice) {
    return stream.profile().longestExact(laneOfAllRows(choice));
  }
}

package dev.lengthwise.study.accuracy;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import java.util.List;
import java.util.SortedMap;

/**
 * A lane's restrictions without the rows left out; what many lanes of a search have in common. It
 * leaves the instruction set out as well, which is costly to compare.
 */
record LaneRestrictions(
    int lookahead,
    int longest,
    SpecifierDepth depth,
    SortedMap<Integer, PrefixTreatment> prefixes,
    UndefinedRows undefinedRows) {

  static LaneRestrictions of(Predecoder lane) {
    return new LaneRestrictions(
        lane.lookahead(), lane.longest(), lane.depth(), lane.prefixes(), lane.undefinedRows());
  }

  /**
   * Returns a lane with no row left out and with the restrictions up to a cause, in the order of
   * {@link Accuracy.LossCause}; the other restrictions are as wide as the instruction set asks for.
   */
  static Predecoder upTo(Accuracy.LossCause cause, Predecoder lane) {
    Predecoder.Builder builder =
        Predecoder.builder(lane.instructionSet()).undefinedRows(lane.undefinedRows());
    lane.prefixes().forEach(builder::prefix);
    if (cause.compareTo(Accuracy.LossCause.OPERAND_BYTES) >= 0) {
      builder.depth(lane.depth());
    }
    if (cause.compareTo(Accuracy.LossCause.LOOKAHEAD) >= 0) {
      builder.lookahead(lane.lookahead());
    }
    if (cause.compareTo(Accuracy.LossCause.LENGTH_LIMIT) >= 0) {
      builder.longest(lane.longest());
    }
    return builder.build();
  }

  /** The causes that a lane without left-out rows can have, each a step of {@link #upTo}. */
  static List<Accuracy.LossCause> steps() {
    return List.of(
        Accuracy.LossCause.PREFIX,
        Accuracy.LossCause.OPERAND_BYTES,
        Accuracy.LossCause.LOOKAHEAD,
        Accuracy.LossCause.LENGTH_LIMIT);
  }
}

package dev.lengthwise.study.advice;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import dev.lengthwise.study.accuracy.InstructionClass;
import dev.lengthwise.table.InstructionSet;
import java.util.BitSet;
import java.util.List;

/**
 * The share of unseen code that a lane is expected to be exact for: a mixture, in the parts of
 * {@link UnitUse}, of what the stream executes, of its distinct instructions, and of instructions
 * of every row.
 */
final class ExpectedShare {

  private final AccuracyProfile seen;
  private final AccuracyProfile unseen;
  private final double[] seenWeights;
  private final double[] unseenWeights;

  ExpectedShare(AccuracyProfile stream, InstructionSet set, List<RowUnit> units) {
    UnitUse use = new UnitUse(stream, set.table(), units);
    this.seen = stream;
    this.unseen =
        AccuracyProfile.of(EveryRow.of(set, stream.modes()), GoldenModel.of(set), stream.modes());
    double executed = Math.max(1, stream.executed());
    double distinct =
        Math.max(
            1, stream.instructionClasses().stream().mapToLong(InstructionClass::distinct).sum());
    this.seenWeights =
        stream.instructionClasses().stream()
            .mapToDouble(
                c ->
                    use.executedPart() * c.executed() / executed
                        + use.distinctPart() * c.distinct() / distinct)
            .toArray();
    double[] inUnit = new double[units.size()];
    unseen.instructionClasses().forEach(c -> inUnit[use.unitOf(c)] += c.distinct());
    this.unseenWeights =
        unseen.instructionClasses().stream()
            .mapToDouble(c -> use.unseenShare(use.unitOf(c)) * c.distinct() / inUnit[use.unitOf(c)])
            .toArray();
  }

  /**
   * Returns the share of a lane.
   *
   * @param lane a lane that leaves out no row
   * @param leftOut the rows that are left out, as bits of all maps' rows, map after map
   * @return in [0, 1], but for rounding
   */
  double of(Predecoder lane, BitSet leftOut) {
    return seen.exact(lane, leftOut, seenWeights) + unseen.exact(lane, leftOut, unseenWeights);
  }
}

package dev.lengthwise.study.advice;

import dev.lengthwise.study.accuracy.AccuracyProfile;
import dev.lengthwise.study.accuracy.InstructionClass;
import dev.lengthwise.table.LengthTable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;

/**
 * How often unseen code is expected to use each group of opcodes, from what a stream uses.
 *
 * <p>Three estimates are mixed: the share of the instructions executed; the share of the distinct
 * instructions, each counted once, as a loop that runs a million times is one observation of how
 * code is written, not a million; and, for opcodes that the stream does not have, each map's share
 * spread evenly over its opcodes. The parts are those that foretell best what one stretch of the
 * code executes from the rest of the code; see {@link DeletedInterpolation}. Stretches are whole
 * ones of {@value InstructionClass#FOLDS}, because instructions of one function are alike and would
 * be foretold too well by each other ("block cross-validation", Roberts and others,
 * "Cross-validation strategies for data with temporal, spatial, hierarchical, or phylogenetic
 * structure", Ecography 40, 2017; cited from memory).
 */
final class UnitUse {

  private static final int EXECUTED = 0;
  private static final int DISTINCT = 1;
  private static final int MAP = 2;
  private static final int ESTIMATES = 3;

  /** A fold that there is not. */
  private static final int NONE = -1;

  /**
   * What a map has before anything is counted, in instructions: half a one for each symbol, as in
   * Krichevsky and Trofimov, "The performance of universal encoding", IEEE Trans. Information
   * Theory 27, 1981 (from memory).
   */
  private static final double UNCOUNTED = 0.5;

  private final AccuracyProfile stream;
  private final int[] unitOfRow;
  private final int[] codes;
  private final int[] mapOfUnit;
  private final int[] codesOfMap;
  private final double[] parts;
  private final double[] spread;

  UnitUse(AccuracyProfile stream, LengthTable table, List<RowUnit> units) {
    this.stream = stream;
    this.unitOfRow = new int[table.maps().size() * table.unit().codes()];
    this.codes = new int[units.size()];
    this.mapOfUnit = new int[units.size()];
    this.codesOfMap = new int[table.maps().size()];
    Arrays.fill(unitOfRow, NONE);
    for (int unit = 0; unit < units.size(); unit++) {
      BitSet rows = units.get(unit).rows(table);
      for (int row = rows.nextSetBit(0); row >= 0; row = rows.nextSetBit(row + 1)) {
        unitOfRow[row] = unit;
      }
      codes[unit] = rows.cardinality();
      mapOfUnit[unit] = table.mapIndex(units.get(unit).map());
      codesOfMap[mapOfUnit[unit]] += codes[unit];
    }
    List<DeletedInterpolation.Fold> folds = new ArrayList<>();
    for (int fold = 0; fold < InstructionClass.FOLDS; fold++) {
      folds.add(new DeletedInterpolation.Fold(executedIn(fold), estimates(fold)));
    }
    this.parts = DeletedInterpolation.parts(folds, ESTIMATES);
    this.spread = estimates(NONE)[MAP];
  }

  /** Returns the part of what the stream executes. */
  double executedPart() {
    return parts[EXECUTED];
  }

  /** Returns the part of the distinct instructions that the stream has. */
  double distinctPart() {
    return parts[DISTINCT];
  }

  /** Returns the unit of a row, in [0, number of units). */
  int unitOf(InstructionClass instructions) {
    return unitOfRow[instructions.lastRow()];
  }

  /** Returns the share of unseen code that uses a unit whether the stream has it or not. */
  double unseenShare(int unit) {
    return parts[MAP] * spread[unit];
  }

  private double[] executedIn(int fold) {
    double[] executed = new double[codes.length];
    for (InstructionClass instructions : stream.instructionClasses()) {
      if (instructions.isDefined()) {
        executed[unitOf(instructions)] += instructions.executed(fold);
      }
    }
    return shares(executed);
  }

  /** Returns each estimate of each unit's share, made without a fold. */
  private double[][] estimates(int without) {
    double[][] counts = new double[ESTIMATES][codes.length];
    double[] ofMap = new double[codesOfMap.length];
    Arrays.fill(ofMap, UNCOUNTED);
    for (InstructionClass instructions : stream.instructionClasses()) {
      if (instructions.isDefined()) {
        int unit = unitOf(instructions);
        boolean all = without == NONE;
        int distinct = instructions.distinct() - (all ? 0 : instructions.distinct(without));
        counts[EXECUTED][unit] +=
            instructions.executed() - (all ? 0 : instructions.executed(without));
        counts[DISTINCT][unit] += distinct;
        ofMap[mapOfUnit[unit]] += distinct;
      }
    }
    for (int unit = 0; unit < codes.length; unit++) {
      int map = mapOfUnit[unit];
      counts[MAP][unit] = ofMap[map] * codes[unit] / codesOfMap[map];
    }
    return Arrays.stream(counts).map(UnitUse::shares).toArray(double[][]::new);
  }

  private static double[] shares(double[] counts) {
    double sum = Arrays.stream(counts).sum();
    return sum > 0 ? Arrays.stream(counts).map(c -> c / sum).toArray() : counts;
  }
}

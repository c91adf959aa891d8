package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import java.util.BitSet;
import java.util.List;

/**
 * What rows are worth though a stream does not use them: other programs will. A part of each map's
 * instructions is spread evenly over the map's units.
 */
final class RowPrior {

  private final LengthTable table;
  private final List<RowUnit> units;
  private final double[] worthInMap;

  /**
   * Makes a prior.
   *
   * @param part the part of each map's instructions that is spread, at least 0
   */
  RowPrior(StudyStream stream, List<RowUnit> units, double part) {
    InstructionSet set = stream.instructionSet();
    this.table = set.table();
    this.units = units;
    this.worthInMap = new double[table.maps().size()];
    for (AccuracyRow row : stream.profile().rows(Predecoder.of(set).build())) {
      worthInMap[table.mapIndex(row.map())] += part * row.executed();
    }
    for (int map = 0; map < worthInMap.length; map++) {
      String name = table.maps().get(map).name();
      long members = units.stream().filter(u -> u.map().equals(name)).count();
      worthInMap[map] /= Math.max(1, members);
    }
  }

  /** Returns what the units that a choice can reach and follow are worth, in instructions. */
  double worth(LaneChoice choice) {
    BitSet reached = new BitSet();
    reached.set(0);
    int before = 0;
    while (reached.cardinality() > before) {
      before = reached.cardinality();
      for (int unit = 0; unit < units.size(); unit++) {
        if (isFollowed(choice, unit) && reached.get(mapOf(unit))) {
          units.get(unit).targets().forEach(map -> reached.set(table.mapIndex(map)));
        }
      }
    }
    double sum = 0;
    for (int unit = 0; unit < units.size(); unit++) {
      sum += isFollowed(choice, unit) && reached.get(mapOf(unit)) ? worthInMap[mapOf(unit)] : 0;
    }
    return sum;
  }

  private int mapOf(int unit) {
    return table.mapIndex(units.get(unit).map());
  }

  private boolean isFollowed(LaneChoice choice, int unit) {
    return !choice.removed().get(unit)
        && (choice.depth() == SpecifierDepth.EVERYTHING || !units.get(unit).isSplit());
  }
}

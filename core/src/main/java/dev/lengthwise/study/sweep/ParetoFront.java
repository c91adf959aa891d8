package dev.lengthwise.study.sweep;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The variants that no other one beats. */
public final class ParetoFront {

  private ParetoFront() {}

  /**
   * Keeps the rows that no other row of the same stream beats: one that is as good in LUTs, levels,
   * exact share and instructions per cycle, and better in one of them. Of equal rows all stay.
   * Where one of two rows has no throughput, the rest decides.
   *
   * @param rows rows of one or more streams
   * @return those that stay, in their order
   */
  public static List<StudyRow> among(List<StudyRow> rows) {
    Map<String, List<StudyRow>> streams = new LinkedHashMap<>();
    for (StudyRow row : rows) {
      streams.computeIfAbsent(row.stream(), name -> new ArrayList<>()).add(row);
    }
    // What beats a row has no more LUTs, so only the rows before it are looked at.
    streams.values().forEach(own -> own.sort(Comparator.comparingInt(StudyRow::lutsPerLane)));
    return rows.stream().filter(row -> !isBeaten(row, streams.get(row.stream()))).toList();
  }

  private static boolean isBeaten(StudyRow row, List<StudyRow> byLuts) {
    for (StudyRow other : byLuts) {
      if (other.lutsPerLane() > row.lutsPerLane()) {
        return false;
      }
      if (beats(other, row)) {
        return true;
      }
    }
    return false;
  }

  /** Tells whether a row beats another one of the same stream. */
  static boolean beats(StudyRow a, StudyRow b) {
    boolean bothRan = a.ipc().isPresent() && b.ipc().isPresent();
    double ipcA = bothRan ? a.ipc().getAsDouble() : 0;
    double ipcB = bothRan ? b.ipc().getAsDouble() : 0;
    boolean asGood =
        a.lutsPerLane() <= b.lutsPerLane()
            && a.levels() <= b.levels()
            && a.exactShare() >= b.exactShare()
            && ipcA >= ipcB;
    boolean better =
        a.lutsPerLane() < b.lutsPerLane()
            || a.levels() < b.levels()
            || a.exactShare() > b.exactShare()
            || ipcA > ipcB;
    return asGood && better && a.stream().equals(b.stream());
  }
}

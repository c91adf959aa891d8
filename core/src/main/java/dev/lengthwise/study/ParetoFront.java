package dev.lengthwise.study;

import java.util.List;

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
  public static List<StudyRow> of(List<StudyRow> rows) {
    return rows.stream()
        .filter(row -> rows.stream().noneMatch(other -> beats(other, row)))
        .toList();
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

package dev.lengthwise.study.sweep;

import static com.google.common.truth.Truth.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Checks which rows beat others. */
class ParetoFrontTest {

  private static StudyRow row(
      String name, int luts, int levels, double exact, double ipc, String stream) {
    return new StudyRow(
        name,
        "rom",
        6,
        luts,
        luts,
        levels,
        exact,
        exact,
        ipc < 0 ? OptionalDouble.empty() : OptionalDouble.of(ipc),
        stream,
        "");
  }

  @Test
  void front_keepsWhatNoneBeats() {
    StudyRow lean = row("lean", 10, 3, 0.5, 0.4, "a");
    StudyRow full = row("full", 50, 5, 1.0, 0.9, "a");
    StudyRow worse = row("worse", 60, 5, 1.0, 0.9, "a");
    StudyRow shallow = row("shallow", 60, 4, 1.0, 0.9, "a");
    StudyRow equal = row("equal", 50, 5, 1.0, 0.9, "a");
    StudyRow other = row("other", 99, 9, 0.1, 0.1, "b");
    assertThat(ParetoFront.among(List.of(lean, full, worse, shallow, equal, other)))
        .containsExactly(lean, full, shallow, equal, other)
        .inOrder();
  }

  @Test
  void front_withoutThroughput_comparesTheRest() {
    StudyRow known = row("known", 50, 5, 0.9, 0.9, "a");
    StudyRow unknown = row("unknown", 40, 5, 0.9, -1, "a");
    assertThat(ParetoFront.among(List.of(known, unknown))).containsExactly(unknown);
  }

  @Test
  void front_beatsEachRowThatIsLeftOut() {
    Random random = new Random(1);
    List<StudyRow> rows = new ArrayList<>();
    for (int i = 0; i < 300; i++) {
      rows.add(
          row(
              "r" + i,
              random.nextInt(12),
              random.nextInt(4),
              random.nextInt(12) / 12.0,
              random.nextInt(6) / 4.0,
              "a"));
    }
    List<StudyRow> front = ParetoFront.among(rows);
    for (StudyRow row : rows) {
      long better =
          rows.stream()
              .filter(
                  o ->
                      o.lutsPerLane() <= row.lutsPerLane()
                          && o.levels() <= row.levels()
                          && o.exactShare() >= row.exactShare()
                          && o.ipc().getAsDouble() >= row.ipc().getAsDouble()
                          && (o.lutsPerLane() != row.lutsPerLane()
                              || o.levels() != row.levels()
                              || o.exactShare() != row.exactShare()
                              || o.ipc().getAsDouble() != row.ipc().getAsDouble()))
              .count();
      assertThat(front.contains(row)).isEqualTo(better == 0);
    }
    assertThat(front.size()).isLessThan(rows.size() / 2);
  }
}

package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.testing.SampleSets;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What blocks inside a user's are called. */
class InnerBlockNamesTest {

  private static List<String> names(String array) {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    return Realizer.on(DeviceProfile.sixInputDualOutput())
        .realize(LaneArray.builder(lane, 4).name(array).build(), Style.ROM)
        .circuit()
        .blocks()
        .stream()
        .map(Circuit::name)
        .toList();
  }

  @Test
  void row_calledRow_repeatsNoWord() {
    assertThat(names("gate_row")).containsAtLeast("gate_row", "gate_row_lanes", "gate_row_marks");
    assertThat(names("gate_row")).doesNotContain("gate_row_row");
    assertThat(names("row")).contains("row_lanes");
  }

  @Test
  void row_calledMarks_repeatsNoWord() {
    assertThat(names("gate_marks")).containsAtLeast("gate_marks_row", "gate_marks_starts");
    assertThat(names("gate_marks")).doesNotContain("gate_marks_marks");
  }

  @Test
  void row_whoseNameOnlyEndsAlike_keepsTheWord() {
    assertThat(names("arrow")).contains("arrow_row");
  }
}

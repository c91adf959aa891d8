package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.device.DeviceProfile;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** A reset reaches state, and no data that is read only where state says so. */
class DataRegistersTest {

  private static final Set<String> STATE =
      Set.of(
          "active",
          "arrived",
          "asked_busy",
          "asked_fresh",
          "asked_hit",
          "asked_valid",
          "asking",
          "beat_count",
          "carry",
          "changed_modes",
          "entering",
          "fetching",
          "flush_looked",
          "flush_pending",
          "flush_whole",
          "held_redirect",
          "held_valid",
          "lanes_live",
          "marks_live",
          "shift_register",
          "shown_valid",
          "waiting");

  @Test
  void register_ofFetchUnits_isResetWhereItIsState() {
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    Set<String> reset = new TreeSet<>();
    Set<String> data = new TreeSet<>();
    for (FetchUnit unit : FetchUnitCircuitTest.units().subList(0, 14)) {
      for (Circuit block : realizer.realize(unit, Style.ROM).circuit().blocks()) {
        for (Node node : block.nodes()) {
          if (node instanceof Node.Register register) {
            (register.resetValue().isPresent() ? reset : data).add(register.name());
          }
        }
      }
    }
    assertThat(reset).containsExactlyElementsIn(STATE);
    assertThat(data)
        .containsAtLeast(
            "asked_number", "entry", "entry_wide", "filled_way", "gathered", "held_window");
    assertThat(data).containsNoneIn(STATE);
  }
}

package dev.lengthwise.circuit.text;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.util.List;
import org.junit.jupiter.api.Test;

class RegisterGroupTest {

  private static EmissionPlan plan(Reset reset) {
    CircuitBuilder b = Circuit.named("groups", "Registers of all groups.").reset(reset);
    Signal data = b.input("data", 4, "data");
    Signal go = b.input("go", 2, "enables");
    Signal valid = b.register("valid", 1, 0);
    Signal first = b.dataRegister("first", 4);
    Signal second = b.dataRegister("second", 4);
    Signal always = b.register("always_on", 4, 5);
    Signal plain = b.register("plain", 4, 0);
    b.drive(valid, b.bit(go, 1), b.bit(go, 0));
    b.drive(first, data, b.bit(go, 0));
    b.drive(second, first, b.bit(go, 0));
    b.drive(always, data, b.constant(1, 1));
    b.drive(plain, data);
    b.output("shown", b.concat(List.of(valid, second, always, plain)), "all");
    return EmissionPlan.of(b.build());
  }

  private static List<List<String>> names(EmissionPlan plan) {
    return RegisterGroup.of(plan, plan.statements()).stream()
        .map(group -> group.places().stream().map(at -> plan.name(at).orElseThrow()).toList())
        .toList();
  }

  @Test
  void of_enablesThatReadAlike_shareAGroupUnlessOneIsReset() {
    EmissionPlan plan = plan(Reset.ACTIVE_HIGH);
    assertThat(names(plan))
        .containsExactly(
            List.of("valid"), List.of("first", "second"), List.of("always_on", "plain"))
        .inOrder();
    List<RegisterGroup> groups = RegisterGroup.of(plan, plan.statements());
    assertThat(groups.stream().map(RegisterGroup::reset).toList())
        .containsExactly(true, false, true)
        .inOrder();
    assertThat(groups.get(2).enable()).isEmpty();
  }

  @Test
  void of_blockWithoutReset_groupsByEnable() {
    assertThat(names(plan(Reset.NONE)))
        .containsExactly(List.of("valid", "first", "second"), List.of("always_on", "plain"))
        .inOrder();
  }

  @Test
  void unread_dataRegistersAlone_haveNoReset() {
    CircuitBuilder b = Circuit.named("data_only", "Data.");
    Signal held = b.dataRegister("held", 4);
    b.drive(held, b.input("data", 4, "data"));
    b.output("shown", held, "held");
    Circuit circuit = b.build();
    assertThat(circuit.isClocked()).isTrue();
    assertThat(circuit.isReset()).isFalse();
    assertThat(EmissionPlan.of(circuit).unread()).isEmpty();
  }
}

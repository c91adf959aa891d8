package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Registers that one process holds, since they share their enable and are reset or not.
 *
 * @param enable one bit, or empty for registers that load at every edge
 * @param reset whether a reset gives them their reset values
 * @param places the places of the registers, ascending
 */
public record RegisterGroup(Optional<Signal> enable, boolean reset, List<Integer> places) {

  /**
   * Returns the registers among some statements in groups.
   *
   * @param plan the block
   * @param places the statements
   * @return groups in the order of their first registers
   */
  public static List<RegisterGroup> of(EmissionPlan plan, List<Integer> places) {
    Map<Object, RegisterGroup> groups = new LinkedHashMap<>();
    for (int place : places) {
      if (plan.node(place) instanceof Node.Register register) {
        boolean reset = plan.circuit().reset() != Reset.NONE && register.resetValue().isPresent();
        Circuit.RegisterDrive drive = plan.circuit().registerDrives().get(place);
        Optional<Signal> enable = drive.enable().filter(bit -> !isAlways(plan, bit));
        groups
            .computeIfAbsent(
                List.of(enable.map(bit -> asPrinted(plan, bit)), reset),
                k -> new RegisterGroup(enable, reset, new ArrayList<>()))
            .places()
            .add(place);
      }
    }
    return List.copyOf(groups.values());
  }

  private static boolean isAlways(EmissionPlan plan, Signal enable) {
    return plan.name(enable.node()).isEmpty()
        && plan.node(enable) instanceof Node.Constant constant
        && constant.value().signum() == 1;
  }

  /** Enables that read alike are one: signals with a name are told apart, others are not. */
  private static Object asPrinted(EmissionPlan plan, Signal enable) {
    return plan.name(enable.node()).isPresent() ? enable : plan.node(enable);
  }
}

package dev.lengthwise.realize.cells;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.name.HdlName;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * Adds LUTs to a block, each named and commented after its role, under the block that it serves.
 */
public final class LutText {

  private final CircuitBuilder circuit;
  private final Map<String, Integer> numbers = new TreeMap<>();
  private String section = "";

  public LutText(CircuitBuilder circuit) {
    this.circuit = circuit;
  }

  /**
   * Adds a LUT that reads some of the signals and returns its output. It is named after its role
   * unless there is a name that says more.
   */
  public Signal add(
      LutNetwork.Lut lut, LaneMapping.Role role, List<Signal> signals, Optional<String> name) {
    String heading = role.block() + " at byte " + role.position();
    if (!heading.equals(section)) {
      section = heading;
      circuit.section(heading);
    }
    long[] words = new long[1 << lut.fanIns().size()];
    for (int point = 0; point < words.length; point++) {
      words[point] = lut.table().isOn(point) ? 1 : 0;
    }
    Signal output =
        circuit.lut(
            lut.fanIns().stream().map(signal -> read(signal, signals)).toList(),
            Contents.of(1, words));
    circuit.named(output, name.orElseGet(() -> name(role)));
    return circuit.comment(output, role.what());
  }

  /** Returns a signal, or a constant at an input that the LUT passes over. */
  private Signal read(int signal, List<Signal> signals) {
    return signal == LutNetwork.ZERO ? circuit.constant(0, 1) : signals.get(signal);
  }

  /** Says what the LUT computes, with a number where several compute it. */
  private String name(LaneMapping.Role role) {
    String what = role.what().replaceFirst(" of .*", "").replace(' ', '_');
    String block = HdlName.fault(role.block()).isEmpty() ? role.block() : "block";
    String name = what.startsWith(block + "_") ? what : block + "_" + what;
    String stem = HdlName.fault(name).isEmpty() ? name : block + "_lut";
    int number = numbers.merge(stem, 1, Integer::sum);
    return number == 1 ? stem : stem + "_lut" + number;
  }
}

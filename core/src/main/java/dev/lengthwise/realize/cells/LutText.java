package dev.lengthwise.realize.cells;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.name.HdlName;
import java.util.List;
import java.util.Map;
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

  /** Adds a LUT that reads some of the signals and returns its output. */
  public Signal add(LutNetwork.Lut lut, LaneMapping.Role role, List<Signal> signals) {
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
        circuit.lut(lut.fanIns().stream().map(signals::get).toList(), Contents.of(1, words));
    String stem = HdlName.fault(role.block()).isEmpty() ? role.block() : "block";
    circuit.named(output, stem + "_bit" + numbers.merge(stem, 1, Integer::sum));
    return circuit.comment(output, role.what());
  }
}

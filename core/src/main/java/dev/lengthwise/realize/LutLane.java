package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.logic.LaneMapping;
import dev.lengthwise.logic.LutNetwork;
import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.LaneTable;
import dev.lengthwise.predecode.Predecoder;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** A lane as one network of LUTs, each an assignment of its own under the block that it serves. */
final class LutLane {

  private final Predecoder lane;
  private final LaneMapping mapping;
  private final LutNetwork network;
  private final CircuitBuilder circuit;
  private final LanePorts ports;

  LutLane(Predecoder lane, int prefixes, String name, LaneMapping mapping) {
    this.lane = lane;
    this.mapping = mapping;
    this.network = mapping.network();
    this.circuit =
        Circuit.named(
            name,
            "Length of the instruction of "
                + lane.instructionSet().table().name()
                + " that starts at byte 0"
                + (prefixes == 0 ? "" : ", the " + prefixes + " prefixes before it not counted")
                + "; 0 where the lane does not handle it.");
    Facts.of(lane, Style.LUT_NETWORK).forEach(circuit::fact);
    circuit.fact("LUTs (estimate)", Integer.toString(network.luts().size()));
    circuit.fact("levels (estimate)", Integer.toString(network.levels()));
    this.ports = new LanePorts(circuit, lane, LaneTable.of(lane, prefixes).bytesSeen());
  }

  Circuit build() {
    List<Signal> signals = new ArrayList<>();
    for (int bit = 0; bit < 8 * mapping.shape().bytes(); bit++) {
      signals.add(circuit.bit(ports.code(), bit));
    }
    signals.addAll(ports.modes().values());
    String section = "";
    Map<String, Integer> numbers = new TreeMap<>();
    for (int i = 0; i < network.luts().size(); i++) {
      LaneMapping.Role role = mapping.roles().get(i);
      String heading = role.block() + " at byte " + role.position();
      if (!heading.equals(section)) {
        section = heading;
        circuit.section(heading);
      }
      Signal output = lut(network.luts().get(i), signals);
      String stem = HdlName.fault(role.block()).isEmpty() ? role.block() : "block";
      circuit.named(output, stem + "_bit" + numbers.merge(stem, 1, Integer::sum));
      signals.add(circuit.comment(output, role.what()));
    }
    List<Signal> length = new ArrayList<>();
    for (LutNetwork.Output output : network.outputs()) {
      length.add(output.signal() < 0 ? constant(output.signal()) : signals.get(output.signal()));
    }
    int bits = lane.lengthBits();
    circuit.section("Length");
    circuit.output(
        LanePorts.LENGTH,
        circuit.extend(circuit.concat(length), Math.max(bits, length.size())),
        "bytes of the instruction; 0: not handled");
    return circuit.build();
  }

  private Signal constant(int signal) {
    return circuit.constant(signal == LutNetwork.ONE ? 1 : 0, 1);
  }

  private Signal lut(LutNetwork.Lut lut, List<Signal> signals) {
    long[] words = new long[1 << lut.fanIns().size()];
    for (int point = 0; point < words.length; point++) {
      words[point] = lut.table().isOn(point) ? 1 : 0;
    }
    return circuit.lut(lut.fanIns().stream().map(signals::get).toList(), Contents.of(1, words));
  }
}

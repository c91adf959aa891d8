package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.PinOrder;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.cells.Facts;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.realize.cells.LutText;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A lane as one network of LUTs, each an assignment of its own under the block that it serves. */
public final class LutLane {

  private static final String STYLE = "lut_network";

  private final Predecoder lane;
  private final LaneMapping mapping;
  private final LutNetwork network;
  private final List<LutNetwork.Lut> luts;
  private final CircuitBuilder circuit;
  private final LanePorts ports;

  /**
   * Prepares a lane.
   *
   * @param delays what signals take, inputs in the order of the lane's
   */
  public LutLane(
      Predecoder lane, int prefixes, String name, LaneMapping mapping, DelayModel delays) {
    this.lane = lane;
    this.mapping = mapping;
    this.network = mapping.network();
    this.luts = PinOrder.of(network, delays);
    this.circuit =
        Circuit.named(
            name,
            "Length of the instruction of "
                + lane.instructionSet().table().name()
                + " that starts at byte 0"
                + (prefixes == 0 ? "" : ", the " + prefixes + " prefixes before it not counted")
                + "; 0 where the lane does not handle it.");
    Facts.of(lane, STYLE).forEach(circuit::fact);
    circuit.fact("LUTs (estimate)", Integer.toString(network.luts().size()));
    circuit.fact("levels (estimate)", Integer.toString(network.levels()));
    this.ports = new LanePorts(circuit, lane, LaneTable.of(lane, prefixes).bytesSeen());
  }

  public Circuit build() {
    List<Signal> signals = new ArrayList<>();
    for (int bit = 0; bit < 8 * mapping.shape().bytes(); bit++) {
      signals.add(circuit.bit(ports.code(), bit));
    }
    signals.addAll(ports.modes().values());
    LutText text = new LutText(circuit);
    Map<Integer, String> outputs = new HashMap<>();
    for (int bit = 0; bit < network.outputs().size(); bit++) {
      outputs.putIfAbsent(network.outputs().get(bit).signal(), "length_bit_" + bit);
    }
    for (int i = 0; i < network.luts().size(); i++) {
      Optional<String> name = Optional.ofNullable(outputs.get(signals.size()));
      signals.add(text.add(luts.get(i), mapping.roles().get(i), signals, name));
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
}

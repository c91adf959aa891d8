package dev.lengthwise.realize.row;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.lane.network.ByteSharing;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LateLane;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.PinOrder;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cells.InnerName;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.realize.cells.LutText;
import dev.lengthwise.realize.marks.LateModes;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Cuts a lane that is a network of LUTs in two: the LUTs that have the same function at each byte,
 * and the rest.
 */
public final class SharedLutLane {

  private final LaneArray array;
  private final LateModes late;
  private final LaneMapping mapping;
  private final LateLane lane;
  private final ByteSharing sharing;
  private final DelayModel delays;

  private SharedLutLane(LaneArray array, LateModes late, LaneMapping mapping, DelayModel delays) {
    this.delays = delays;
    this.array = array;
    this.late = late;
    this.mapping = mapping;
    this.lane = LateLane.of(mapping, late.names());
    this.sharing = ByteSharing.of(lane.network(), mapping.shape().bytes());
  }

  /**
   * Cuts a lane.
   *
   * @param delays what LUTs take
   */
  public static SharedLane of(
      LaneArray array, LateModes late, LaneMapping mapping, DelayModel delays) {
    return new SharedLutLane(array, late, mapping, delays).build();
  }

  private SharedLane build() {
    List<SharedLane.Wire> wires = new ArrayList<>();
    for (ByteSharing.Reading reading : sharing.readings()) {
      wires.add(new SharedLane.Wire(port(reading), reading.position(), output(reading.output())));
    }
    Map<Integer, String> lengths = new LinkedHashMap<>();
    for (int word = 0; word < late.words(); word++) {
      lengths.put(word, length(word));
    }
    return new SharedLane(
        sharing.readings().isEmpty() ? null : atByte(),
        List.of(new SharedLane.Part("", atLane(), wires, lengths)));
  }

  private static String port(ByteSharing.Reading reading) {
    return output(reading.output()) + "_at_" + reading.position();
  }

  private static String output(int index) {
    return "work_" + index;
  }

  private String length(int word) {
    return late.count() == 0 ? LanePorts.LENGTH : LanePorts.LENGTH + "_word_" + word;
  }

  private Circuit atByte() {
    CircuitBuilder circuit =
        Circuit.named(
            array.name() + "_byte", "What a byte of the window says to every lane that sees it.");
    LanePorts ports = new LanePorts(circuit, array.lane(), sharing.bytes(), late.names());
    List<Signal> signals = new ArrayList<>();
    addBits(circuit, ports, sharing.bytes(), signals);
    LutNetwork network = sharing.atByte();
    luts(circuit, new Part(network, delays, sharing.byteSources()), signals, Map.of());
    for (LutNetwork.Output output : sharing.atByte().outputs()) {
      circuit.output(
          output.name(), signals.get(output.signal()), "read by lanes that see the byte");
    }
    return circuit.build();
  }

  private Circuit atLane() {
    CircuitBuilder circuit =
        Circuit.named(
            InnerName.of(array.name(), "lane", "at_lane"),
            "Length of the instruction of "
                + array.lane().instructionSet().table().name()
                + " that starts at byte 0; 0 where the lane does not handle it.");
    int bytes = mapping.shape().bytes();
    LanePorts ports = new LanePorts(circuit, array.lane(), bytes, late.names());
    List<Signal> signals = new ArrayList<>();
    addBits(circuit, ports, bytes, signals);
    for (ByteSharing.Reading reading : sharing.readings()) {
      signals.add(circuit.input(port(reading), 1, "from the block at byte " + reading.position()));
    }
    LutNetwork network = sharing.atLane();
    int bits = network.outputs().size() / late.words();
    DelayModel behind = delays.withArrivals(arrivals(signals.size()));
    luts(
        circuit,
        new Part(network, behind, sharing.laneSources()),
        signals,
        lengthBits(network, bits));
    circuit.section("Lengths");
    for (int word = 0; word < late.words(); word++) {
      List<Signal> length = new ArrayList<>();
      for (int bit = 0; bit < bits; bit++) {
        int signal = network.outputs().get(word * bits + bit).signal();
        length.add(signal < 0 ? constant(circuit, signal) : signals.get(signal));
      }
      circuit.output(
          length(word),
          circuit.extend(circuit.concat(length), Math.max(bits, array.lane().lengthBits())),
          "bytes of the instruction"
              + (late.count() == 0 ? "" : " in late word " + word)
              + "; 0: not handled");
    }
    return circuit.build();
  }

  private static Signal constant(CircuitBuilder circuit, int signal) {
    return circuit.constant(signal == LutNetwork.ONE ? 1 : 0, 1);
  }

  /** Adds the bits of the code and the modes; a late mode, which nothing reads, reads 0. */
  private void addBits(CircuitBuilder circuit, LanePorts ports, int bytes, List<Signal> signals) {
    for (int bit = 0; bit < 8 * bytes; bit++) {
      signals.add(circuit.bit(ports.code(), bit));
    }
    for (String mode : mapping.shape().modes()) {
      Signal known = ports.modes().get(mode);
      signals.add(known == null ? circuit.constant(0, 1) : known);
    }
  }

  /** Names the LUTs that are one bit of one length. */
  private Map<Integer, String> lengthBits(LutNetwork network, int bits) {
    Map<Integer, String> names = new HashMap<>();
    Set<Integer> shared = new HashSet<>();
    for (int output = 0; output < network.outputs().size(); output++) {
      int signal = network.outputs().get(output).signal();
      if (names.put(signal, length(output / bits) + "_bit_" + output % bits) != null) {
        shared.add(signal);
      }
    }
    names.keySet().removeAll(shared);
    return names;
  }

  /** Returns when the inputs of a lane are there: those that blocks of bytes drive come last. */
  private int[] arrivals(int inputs) {
    LutNetwork atByte = sharing.atByte();
    int[] times = delays.times(atByte);
    int[] arrivals = new int[inputs];
    int first = inputs - sharing.readings().size();
    for (int i = first; i < inputs; i++) {
      int output = sharing.readings().get(i - first).output();
      arrivals[i] = times[atByte.outputs().get(output).signal()];
    }
    return arrivals;
  }

  /** A part of the lane: its LUTs, what its signals take, and which LUT of the lane each is. */
  private record Part(LutNetwork network, DelayModel delays, List<Integer> sources) {}

  private void luts(
      CircuitBuilder circuit, Part part, List<Signal> signals, Map<Integer, String> names) {
    LutText text = new LutText(circuit);
    List<LutNetwork.Lut> luts = PinOrder.of(part.network(), part.delays());
    for (int i = 0; i < luts.size(); i++) {
      Optional<String> name = Optional.ofNullable(names.get(signals.size()));
      LaneMapping.Role role = lane.roles().get(part.sources().get(i));
      signals.add(text.add(luts.get(i), role, signals, name));
    }
  }
}

package dev.lengthwise.realize.row;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.cells.InnerName;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.marks.MarkPorts;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/** The lanes of an array side by side, and what each byte is as a prefix. */
public final class LaneBlocks {

  public static final String CODE = "code";

  private final LaneArray array;
  private final LateModes late;
  private final CircuitBuilder circuit;
  private final Signal code;
  private final Map<String, Signal> modes = new LinkedHashMap<>();

  public LaneBlocks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.circuit =
        Circuit.named(
            InnerName.of(array.name(), "row", "lanes"),
            "What the lane at each byte of the window says"
                + (late.count() == 0
                    ? "."
                    : ", for each value of " + String.join(", ", late.names()))
                + ".");
    int seen = array.windowBytes() + array.nextBytes();
    this.code = circuit.input(CODE, 8 * seen, "the window, and the bytes seen behind it");
    for (String mode : array.lane().instructionSet().table().modes()) {
      if (!late.names().contains(mode)) {
        modes.put(mode, circuit.userInput(mode, 1, "mode " + mode));
      }
    }
  }

  /**
   * Builds the block of lanes.
   *
   * @param shared the lane cut in two, or null if each lane does all its work alone
   * @param alone the circuit of a lane that does
   */
  public Circuit build(SharedLane shared, Function<Predecoder, Circuit> alone) {
    List<Map<String, Signal>> bytes =
        shared == null || shared.atByte() == null ? List.of() : bytes(shared);
    Map<Predecoder, Circuit> known = new LinkedHashMap<>();
    circuit.section("Lanes");
    for (int i = 0; i < array.windowBytes(); i++) {
      Predecoder lane = array.laneAt(i).orElse(null);
      List<Signal> answers;
      if (lane == null) {
        answers = Collections.nCopies(late.words(), circuit.constant(0, array.lane().lengthBits()));
      } else if (shared != null && lane.equals(array.lane())) {
        answers = answers(shared, bytes, i);
      } else {
        answers = answers(lane, known.computeIfAbsent(lane, alone), i);
      }
      circuit.output(MarkPorts.length(i), circuit.concat(answers), "what lane " + i + " says");
    }
    if (late.count() > 0) {
      circuit.section("Prefixes");
    }
    for (int i = 0; i < array.windowBytes() && late.count() > 0; i++) {
      Signal bitsHere =
          array.laneAt(i).isEmpty()
              ? circuit.constant(0, late.prefixBits())
              : late.prefixBits(circuit, unitAt(i));
      circuit.output(MarkPorts.prefix(i), bitsHere, "what byte " + i + " is as prefix");
    }
    return circuit.build();
  }

  /** Places the blocks of bytes, as far as the lanes that share them see. */
  private List<Map<String, Signal>> bytes(SharedLane shared) {
    int lanes = 0;
    while (lanes < array.windowBytes()
        && array.laneAt(lanes).filter(array.lane()::equals).isPresent()) {
      lanes++;
    }
    List<Map<String, Signal>> bytes = new ArrayList<>();
    circuit.section("Work done once for each byte");
    for (int i = 0; lanes > 0 && i < lanes + shared.lastPosition(); i++) {
      bytes.add(circuit.instance("byte_" + i, shared.atByte(), inputs(shared.atByte(), i)));
    }
    return bytes;
  }

  /** Connects the code from a byte on, as far as there is any, and the modes. */
  private Map<String, Signal> inputs(Circuit block, int position) {
    Map<String, Signal> inputs = new LinkedHashMap<>();
    for (Port port : block.ports()) {
      if (port.key().equals(LanePorts.CODE)) {
        int seen = Math.min(port.width(), code.width() - 8 * position);
        inputs.put(
            port.key(), circuit.extend(circuit.slice(code, 8 * position, seen), port.width()));
      } else if (port.isOfUser() && modes.containsKey(port.name())) {
        inputs.put(port.key(), modes.get(port.name()));
      }
    }
    return inputs;
  }

  private List<Signal> answers(SharedLane shared, List<Map<String, Signal>> bytes, int position) {
    Signal[] answers = new Signal[late.words()];
    for (SharedLane.Part part : shared.parts()) {
      Map<String, Signal> inputs = inputs(part.block(), position);
      for (SharedLane.Wire wire : part.wires()) {
        inputs.put(wire.input(), bytes.get(position + wire.position()).get(wire.output()));
      }
      String name = "lane_" + position + (part.name().isEmpty() ? "" : "_" + part.name());
      Map<String, Signal> outputs = circuit.instance(name, part.block(), inputs);
      part.lengths().forEach((word, output) -> answers[word] = outputs.get(output));
    }
    return List.of(answers);
  }

  private List<Signal> answers(Predecoder lane, Circuit block, int position) {
    List<Signal> answers = new ArrayList<>();
    for (int word = 0; word < late.words(); word++) {
      Map<String, Signal> inputs = new LinkedHashMap<>();
      modes.forEach((mode, signal) -> inputs.put(Port.keyOfUser(mode), signal));
      inputs.put(LanePorts.CODE, circuit.slice(code, 8 * position, 8 * (1 + lane.lookahead())));
      late.values(word)
          .forEach((mode, on) -> inputs.put(Port.keyOfUser(mode), circuit.constant(on ? 1 : 0, 1)));
      String name = "lane_" + position + (late.count() == 0 ? "" : "_word_" + word);
      answers.add(circuit.instance(name, block, inputs).get(LanePorts.LENGTH));
    }
    return answers;
  }

  private Signal unitAt(int position) {
    return switch (array.lane().instructionSet().table().unit()) {
      case BYTE -> circuit.slice(code, 8 * position, 8);
      case WORD_LITTLE_ENDIAN -> circuit.slice(code, 8 * position, 16);
      case WORD_BIG_ENDIAN ->
          circuit.concat(
              List.of(
                  circuit.slice(code, 8 * position + 8, 8), circuit.slice(code, 8 * position, 8)));
    };
  }
}

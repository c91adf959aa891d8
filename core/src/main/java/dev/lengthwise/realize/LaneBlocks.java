package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/** The lanes of an array side by side, and what each byte is as a prefix. */
final class LaneBlocks {

  static final String CODE = "code";

  private final LaneArray array;
  private final LateModes late;
  private final CircuitBuilder circuit;
  private final Signal code;
  private final Map<String, Signal> modes = new LinkedHashMap<>();

  LaneBlocks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.circuit =
        Circuit.named(
            array.name() + "_row",
            "What the lane at each byte of the window says"
                + (late.count() == 0
                    ? "."
                    : ", for each value of " + String.join(", ", late.names()))
                + ".");
    int seen = array.windowBytes() + array.nextBytes();
    this.code = circuit.input(CODE, 8 * seen, "the window, and the bytes seen behind it");
    for (String mode : array.lane().instructionSet().table().modes()) {
      if (!late.names().contains(mode)) {
        modes.put(mode, circuit.input(mode, 1, "mode " + mode));
      }
    }
  }

  /** Builds the block of lanes, each the circuit that is given for what it handles. */
  Circuit build(Function<Predecoder, Circuit> lanes) {
    Map<Predecoder, Circuit> known = new LinkedHashMap<>();
    int bits = array.lane().lengthBits();
    for (int i = 0; i < array.windowBytes(); i++) {
      Predecoder lane = array.laneAt(i).orElse(null);
      List<Signal> answers = new ArrayList<>();
      for (int word = 0; word < late.words(); word++) {
        answers.add(
            lane == null
                ? circuit.constant(0, bits)
                : answer(lane, known.computeIfAbsent(lane, lanes), i, word));
      }
      circuit.output(MarkPorts.length(i), circuit.concat(answers), "what lane " + i + " says");
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

  private Signal answer(Predecoder lane, Circuit block, int position, int word) {
    Map<String, Signal> inputs = new LinkedHashMap<>(modes);
    int bytes = 1 + lane.lookahead();
    inputs.put(LanePorts.CODE, circuit.slice(code, 8 * position, 8 * bytes));
    late.values(word).forEach((mode, on) -> inputs.put(mode, circuit.constant(on ? 1 : 0, 1)));
    String name = "lane_" + position + (late.count() == 0 ? "" : "_word_" + word);
    return circuit.instance(name, block, inputs).get(LanePorts.LENGTH);
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

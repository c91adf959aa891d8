package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Start bits by counting down, byte after byte: where the count of bytes to the next start is 0, an
 * item starts and its length is loaded. A carry past the window needs nothing more.
 */
final class RippleMarks {

  private final MarkPorts ports;
  private final LaneArray array;
  private final LateModes late;

  RippleMarks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.ports =
        new MarkPorts(
            array,
            late,
            "Start bits of "
                + array.name()
                + ": bytes to the next start are counted down from byte to byte.");
  }

  Circuit build() {
    CircuitBuilder circuit = ports.circuit;
    Circuit step = step();
    Map<String, Signal> state = new LinkedHashMap<>();
    state.put("count", ports.first);
    state.put("stopped", ports.stopped);
    if (late.count() > 0) {
      state.put("word", ports.word);
    }
    List<Signal> starts = new ArrayList<>();
    List<Signal> fails = new ArrayList<>();
    List<Signal> offsets = new ArrayList<>();
    for (int i = 0; i < array.windowBytes(); i++) {
      Map<String, Signal> inputs = new LinkedHashMap<>(state);
      inputs.put("lengths", ports.lengths(i));
      if (late.count() > 0) {
        inputs.put("prefix", ports.prefixBits(i));
        inputs.put(MarkPorts.INITIAL, ports.initial);
      }
      Map<String, Signal> outputs = circuit.instance("byte_" + i, step, inputs);
      starts.add(outputs.get("start"));
      fails.add(outputs.get("fails"));
      offsets.add(circuit.constant(i, array.offsetBits()));
      state.replaceAll((name, old) -> outputs.get("next_" + name));
    }
    circuit.output("start", circuit.concat(starts), "bit i: an item starts at byte i");
    return ports.build(fails, offsets, state.get("count"), state.get("word"), state.get("stopped"));
  }

  /** The block of one byte. */
  private Circuit step() {
    CircuitBuilder circuit =
        Circuit.named(
            array.name() + "_step", "One byte of the start bits: starts an item or counts down.");
    int bits = array.carryBits();
    Signal count = circuit.input("count", bits, "bytes to the next start");
    Signal stopped = circuit.input("stopped", 1, "1: no item starts before a redirect");
    Signal word = late.count() > 0 ? circuit.input("word", late.count(), "late modes here") : null;
    Signal lengths =
        circuit.input("lengths", ports.lengthBits() * late.words(), "what the lane here says");
    Signal here = circuit.named(circuit.equal(count, 0), "count_is_0");
    Signal start = circuit.named(circuit.and(List.of(here, circuit.not(stopped))), "starts");
    List<Signal> handled = new ArrayList<>();
    List<Signal> behind = new ArrayList<>();
    for (Signal length : MarkPorts.words(circuit, lengths, late.words())) {
      handled.add(circuit.reduce(Node.Operation.OR, length));
      behind.add(minusOne(circuit, length, bits));
    }
    Signal fails = circuit.and(List.of(start, circuit.not(choose(circuit, word, handled))));
    circuit.output("start", start, "1: an item starts here");
    circuit.output(
        "fails", circuit.named(fails, "not_handled"), "1: and its lane does not handle it");
    circuit.output(
        "next_count",
        circuit.mux(here, choose(circuit, word, behind), minusOne(circuit, count, bits)),
        "bytes from the next byte to the next start");
    circuit.output(
        "next_stopped", circuit.or(List.of(stopped, fails)), "1: no item starts before a redirect");
    if (late.count() > 0) {
      Signal prefix = circuit.input("prefix", late.prefixBits(), "what the byte is as prefix");
      Signal initial =
          circuit.input(MarkPorts.INITIAL, late.count(), "late modes before any prefix");
      circuit.output(
          "next_word",
          circuit.mux(here, late.behind(circuit, prefix, word, initial), word),
          "late modes at the next byte");
    }
    return circuit.build();
  }

  private static Signal choose(CircuitBuilder circuit, Signal word, List<Signal> choices) {
    return word == null ? choices.get(0) : circuit.select(word, choices);
  }

  /** Returns a number less one, in so many bits; both are wide enough for what matters. */
  static Signal minusOne(CircuitBuilder circuit, Signal number, int bits) {
    int width = Math.max(number.width(), bits);
    Signal less = circuit.subtract(number, circuit.constant(1, 1), width);
    return width == bits ? less : circuit.slice(less, 0, bits);
  }
}

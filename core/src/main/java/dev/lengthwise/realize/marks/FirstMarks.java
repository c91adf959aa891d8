package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cells.RowFields;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Positions and lengths of the first items, each slot taking the answer of the lane that the slot
 * before it leads to.
 */
final class FirstMarks {

  private final MarkPorts ports;
  private final LaneArray array;
  private final LateModes late;
  private final int count;
  private final int placeBits;

  FirstMarks(LaneArray array, LateModes late, int count) {
    this.array = array;
    this.late = late;
    this.count = count;
    this.placeBits =
        Math.max(
            array.carryBits(), RowFields.bits(array.windowBytes() - 1 + array.lane().longest()));
    this.ports =
        new MarkPorts(
            array,
            late,
            "The first " + count + " items of " + array.name() + ", one slot after the other.");
  }

  Circuit build() {
    CircuitBuilder circuit = ports.circuit;
    Circuit slot = slot();
    Map<String, Signal> state = new LinkedHashMap<>();
    state.put("place", circuit.extend(ports.first, placeBits));
    state.put("stopped", ports.stopped);
    if (late.count() > 0) {
      state.put("word", ports.word);
    }
    List<Map<String, Signal>> slots = new ArrayList<>();
    List<Signal> fails = new ArrayList<>();
    List<Signal> offsets = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      Map<String, Signal> inputs = new LinkedHashMap<>(state);
      for (int lane = 0; lane < array.windowBytes(); lane++) {
        inputs.put(MarkPorts.length(lane), ports.lengths(lane));
        if (late.count() > 0) {
          inputs.put(MarkPorts.prefix(lane), ports.prefixBits(lane));
        }
      }
      if (late.count() > 0) {
        inputs.put(MarkPorts.INITIAL, ports.initial);
      }
      offsets.add(circuit.slice(state.get("place"), 0, array.offsetBits()));
      Map<String, Signal> outputs = circuit.instance("slot_" + i, slot, inputs);
      slots.add(outputs);
      fails.add(outputs.get("fails"));
      state.replaceAll((name, old) -> outputs.get("next_" + name));
    }
    for (int i = 0; i < count; i++) {
      circuit.output("found_" + i, slots.get(i).get("found"), "1: slot " + i + " has an item");
      circuit.output("position_" + i, offsets.get(i), "where it starts");
      circuit.output("length_" + i, slots.get(i).get("length"), "its length in bytes");
    }
    Signal place = state.get("place");
    Signal past = circuit.named(circuit.not(isInside(circuit, place)), "past_the_window");
    circuit.output(
        MarkPorts.USED,
        circuit.or(List.of(past, state.get("stopped"))),
        "1: no further item starts in the window");
    Signal behind =
        circuit.subtract(place, circuit.constant(array.windowBytes(), placeBits), placeBits);
    return ports.build(
        fails,
        offsets,
        circuit.slice(
            circuit.suggested(circuit.mux(past, behind, place), "place_behind"),
            0,
            array.carryBits()),
        state.get("word"),
        state.get("stopped"));
  }

  private Signal isInside(CircuitBuilder circuit, Signal place) {
    return circuit.lessThan(place, circuit.constant(array.windowBytes(), placeBits));
  }

  /** The block of one item. */
  private Circuit slot() {
    CircuitBuilder circuit =
        Circuit.named(
            array.name() + "_slot", "One item: takes the answer of the lane at its place.");
    Signal place = circuit.input("place", placeBits, "where the item starts, if in the window");
    Signal stopped = circuit.input("stopped", 1, "1: no item starts before a redirect");
    Signal word = late.count() > 0 ? circuit.input("word", late.count(), "late modes here") : null;
    List<Signal> lengths = new ArrayList<>();
    List<Signal> prefixes = new ArrayList<>();
    for (int lane = 0; lane < array.windowBytes(); lane++) {
      lengths.add(
          circuit.input(
              MarkPorts.length(lane),
              ports.lengthBits() * late.words(),
              "what lane " + lane + " says"));
    }
    for (int lane = 0; lane < array.windowBytes() && word != null; lane++) {
      prefixes.add(
          circuit.input(
              MarkPorts.prefix(lane), late.prefixBits(), "what byte " + lane + " is as prefix"));
    }
    Signal offset = circuit.slice(place, 0, array.offsetBits());
    Signal answers = circuit.named(circuit.select(offset, lengths), "lengths_here");
    List<Signal> words = MarkPorts.words(circuit, answers, late.words());
    Signal length = word == null ? words.get(0) : circuit.select(word, words);
    circuit.named(length, "length_here");
    Signal inside =
        circuit.named(
            circuit.and(List.of(isInside(circuit, place), circuit.not(stopped))), "is_inside");
    Signal handled = circuit.suggested(circuit.reduce(Node.Operation.OR, length), "is_handled");
    Signal found = circuit.named(circuit.and(List.of(inside, handled)), "is_found");
    Signal fails = circuit.named(circuit.and(List.of(inside, circuit.not(handled))), "not_handled");
    circuit.output("found", found, "1: the item is in the window and handled");
    circuit.output("length", length, "its length in bytes");
    circuit.output("fails", fails, "1: it is in the window and not handled");
    circuit.output(
        "next_place",
        circuit.mux(found, circuit.add(place, length, placeBits), place),
        "where the next item starts");
    circuit.output(
        "next_stopped", circuit.or(List.of(stopped, fails)), "1: no item starts before a redirect");
    if (word != null) {
      Signal initial =
          circuit.input(MarkPorts.INITIAL, late.count(), "late modes before any prefix");
      Signal prefix = circuit.suggested(circuit.select(offset, prefixes), "prefix_here");
      circuit.output(
          "next_word",
          circuit.mux(found, late.behind(circuit, prefix, word, initial), word),
          "late modes at the next item");
    }
    return circuit.build();
  }
}

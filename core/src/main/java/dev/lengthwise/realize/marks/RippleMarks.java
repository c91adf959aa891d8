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
 * Start bits by counting down, byte after byte.
 *
 * <p>What passes from byte to byte is the <em>distance</em>, bytes from the byte before to the next
 * start, or 0 if none is known; beside it, so that nothing waits for a comparison, whether it is 1.
 * Where it is, an item starts and its length is the next distance as it is. A distance has no more
 * bits than a length, so a first start that is farther is loaded where it is near enough.
 */
final class RippleMarks {

  private static final String DISTANCE = "distance";
  private static final String HERE = "starts_here";
  private static final String WORD = "word";

  private final MarkPorts ports;
  private final LaneArray array;
  private final LateModes late;
  private final int bits;

  RippleMarks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.bits = array.lane().lengthBits();
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
    int reach = (1 << bits) - 1;
    Map<String, Signal> state = new LinkedHashMap<>();
    state.put(DISTANCE, circuit.constant(0, bits));
    state.put(HERE, circuit.constant(0, 1));
    if (late.count() > 0) {
      state.put(WORD, ports.word);
    }
    List<Signal> starts = new ArrayList<>();
    List<Signal> fails = new ArrayList<>();
    List<Signal> offsets = new ArrayList<>();
    for (int i = 0; i < array.windowBytes(); i++) {
      if (i % reach == 0) {
        load(circuit, state, i, reach);
      }
      starts.add(state.get(HERE));
      Map<String, Signal> inputs = new LinkedHashMap<>(state);
      inputs.put("lengths", ports.lengths(i));
      if (late.count() > 0) {
        inputs.put("prefix", ports.prefixBits(i));
        inputs.put(MarkPorts.INITIAL, ports.initial);
      }
      Map<String, Signal> outputs = circuit.instance("byte_" + i, step, inputs);
      fails.add(outputs.get("fails"));
      offsets.add(circuit.constant(i, array.offsetBits()));
      state.replaceAll((name, old) -> outputs.get("next_" + name));
    }
    circuit.output("start", circuit.concat(starts), "bit i: an item starts at byte i");
    Signal distance = state.get(DISTANCE);
    int wide = Math.max(bits, array.carryBits());
    Signal carry =
        circuit.suggested(circuit.subtract(distance, circuit.constant(1, 1), wide), "carry_behind");
    return ports.build(
        fails,
        offsets,
        circuit.slice(carry, 0, array.carryBits()),
        state.get(WORD),
        circuit.named(circuit.equal(distance, 0), "halted"));
  }

  /** Takes over the first start if it is at a byte, or behind it and near enough. */
  private void load(CircuitBuilder circuit, Map<String, Signal> state, int place, int reach) {
    int wide = 1 + Math.max(array.carryBits(), RowFields.bits(place + reach));
    Signal behind =
        circuit.suggested(
            circuit.add(ports.first, circuit.constant(1, 1), wide), "distance_to_first");
    Signal before = circuit.constant(place, wide);
    List<Signal> conditions = new ArrayList<>(List.of(circuit.not(ports.stopped)));
    if (1 << array.carryBits() > place + reach) {
      conditions.add(circuit.lessThan(behind, circuit.constant(place + reach + 1L, wide)));
    }
    if (place > 0) {
      conditions.add(circuit.lessThan(before, behind));
    }
    Signal loads = circuit.named(circuit.and(conditions), "loads_at_" + place);
    Signal distance =
        place == 0
            ? behind
            : circuit.suggested(
                circuit.subtract(behind, before, wide), "distance_to_first_from_" + place);
    Signal here = circuit.equal(behind, place + 1L);
    Signal near = circuit.mux(loads, circuit.slice(distance, 0, bits), state.get(DISTANCE));
    Signal starts = circuit.mux(loads, here, state.get(HERE));
    state.put(DISTANCE, circuit.named(near, "distance_at_" + place));
    state.put(HERE, circuit.named(starts, "starts_at_" + place));
  }

  /** The block of one byte. */
  private Circuit step() {
    CircuitBuilder circuit =
        Circuit.named(
            array.name() + "_step", "One byte of the start bits: starts an item or counts down.");
    Signal distance =
        circuit.input(DISTANCE, bits, "bytes from the byte before to the next start; 0: none");
    Signal here = circuit.input(HERE, 1, "1: the distance is 1, so an item starts here");
    Signal word = late.count() > 0 ? circuit.input(WORD, late.count(), "late modes here") : null;
    Signal lengths = circuit.input("lengths", bits * late.words(), "what the lane here says");
    List<Signal> words = MarkPorts.words(circuit, lengths, late.words());
    Signal length = circuit.named(choose(circuit, word, words), "item_length");
    Signal isOne = choose(circuit, word, words.stream().map(w -> circuit.equal(w, 1)).toList());
    circuit.suggested(isOne, "length_is_1");
    Signal handled = circuit.suggested(circuit.reduce(Node.Operation.OR, length), "is_handled");
    Signal fails = circuit.and(List.of(here, circuit.not(handled)));
    circuit.output(
        "fails", circuit.named(fails, "not_handled"), "1: an item starts that is not handled");
    Signal less =
        circuit.named(
            circuit.mux(
                circuit.reduce(Node.Operation.OR, distance),
                circuit.subtract(distance, circuit.constant(1, 1), bits),
                circuit.constant(0, bits)),
            "counted_down");
    circuit.output(
        "next_" + DISTANCE,
        circuit.mux(here, length, less),
        "bytes from this byte to the next start; 0: none");
    // Where no item is longer than a byte, no start lies two bytes on.
    Signal isTwo = bits == 1 ? circuit.constant(0, 1) : circuit.equal(distance, 2);
    circuit.output(
        "next_" + HERE, circuit.mux(here, isOne, isTwo), "1: an item starts at the next byte");
    if (word != null) {
      Signal prefix = circuit.input("prefix", late.prefixBits(), "what the byte is as prefix");
      Signal initial =
          circuit.input(MarkPorts.INITIAL, late.count(), "late modes before any prefix");
      circuit.output(
          "next_" + WORD,
          circuit.mux(here, late.behind(circuit, prefix, word, initial), word),
          "late modes at the next byte");
    }
    return circuit.build();
  }

  private static Signal choose(CircuitBuilder circuit, Signal word, List<Signal> choices) {
    return word == null ? choices.get(0) : circuit.select(word, choices);
  }
}

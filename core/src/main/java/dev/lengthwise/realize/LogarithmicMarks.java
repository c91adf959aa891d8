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
import java.util.TreeMap;

/**
 * Start bits in logarithmic depth.
 *
 * <p>Each byte says, for each late word, in which state a start there leaves the bytes behind it:
 * bytes to the next start, late word, stopped. Neighbouring stretches of bytes are joined to longer
 * ones until half the window is reached (for a start in the left part, the state that it leads to
 * is passed through the right part), and then the state at the window's first byte is passed down
 * the same tree to every byte.
 */
final class LogarithmicMarks {

  private final MarkPorts ports;
  private final LaneArray array;
  private final LateModes late;
  private final CircuitBuilder circuit;
  private final Map<Integer, Circuit> passes = new TreeMap<>();
  private final List<Signal> states = new ArrayList<>();
  private int instances;

  /** Some bytes side by side; where a start in them leads is built when it is first needed. */
  private final class Stretch {

    private final int from;
    private final int bytes;
    private final Stretch left;
    private final Stretch right;
    private List<Signal> exits;

    Stretch(int position, List<Signal> exits) {
      this.from = position;
      this.bytes = 1;
      this.left = null;
      this.right = null;
      this.exits = List.copyOf(exits);
    }

    Stretch(Stretch left, Stretch right) {
      this.from = left.from;
      this.bytes = left.bytes + right.bytes;
      this.left = left;
      this.right = right;
    }

    /**
     * Returns for each late word the states behind the bytes for a start at each of them, the first
     * byte's lowest.
     */
    List<Signal> exits() {
      if (exits == null) {
        List<Signal> joined = new ArrayList<>();
        for (int word = 0; word < late.words(); word++) {
          List<Signal> behind = new ArrayList<>();
          for (int i = 0; i < left.bytes; i++) {
            Signal middle = circuit.slice(left.exits().get(word), i * stateBits(), stateBits());
            behind.add(pass(right, middle));
          }
          behind.add(right.exits().get(word));
          joined.add(circuit.concat(behind));
        }
        exits = List.copyOf(joined);
      }
      return exits;
    }
  }

  LogarithmicMarks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.ports =
        new MarkPorts(
            array,
            late,
            "Start bits of "
                + array.name()
                + ": stretches of bytes are joined in pairs, then the state at the first byte is"
                + " passed down to each.");
    this.circuit = ports.circuit;
  }

  private int stateBits() {
    return array.carryBits() + late.count() + 1;
  }

  Circuit build() {
    circuit.section("Where a start at each byte leads");
    List<Stretch> row = new ArrayList<>();
    Circuit leaf = leaf();
    for (int i = 0; i < array.windowBytes(); i++) {
      Map<String, Signal> inputs = new LinkedHashMap<>();
      inputs.put("lengths", ports.lengths(i));
      if (late.count() > 0) {
        inputs.put("prefix", ports.prefixBits(i));
        inputs.put(MarkPorts.INITIAL, ports.initial);
      }
      Map<String, Signal> outputs = circuit.instance("byte_" + i, leaf, inputs);
      row.add(new Stretch(i, List.copyOf(outputs.values())));
    }
    while (row.size() > 1) {
      List<Stretch> joined = new ArrayList<>();
      for (int i = 0; i < row.size(); i += 2) {
        joined.add(i + 1 < row.size() ? new Stretch(row.get(i), row.get(i + 1)) : row.get(i));
      }
      row = joined;
    }
    circuit.section("States at each byte");
    List<Signal> entry = new ArrayList<>(List.of(ports.first));
    if (late.count() > 0) {
      entry.add(ports.word);
    }
    entry.add(ports.stopped);
    Signal behind = down(row.get(0), circuit.concat(entry));
    return outputs(behind);
  }

  /** Notes the state at each byte of a stretch; returns that behind it if it is the last. */
  private Signal down(Stretch stretch, Signal state) {
    if (stretch.left == null) {
      states.add(circuit.named(state, "state_" + stretch.from));
      return stretch.from + 1 == array.windowBytes() ? pass(stretch, state) : state;
    }
    down(stretch.left, state);
    return down(stretch.right, pass(stretch.left, state));
  }

  private Signal pass(Stretch stretch, Signal state) {
    Circuit block = passes.computeIfAbsent(stretch.bytes, this::passBlock);
    Map<String, Signal> inputs = new LinkedHashMap<>(Map.of("state", state));
    for (int word = 0; word < late.words(); word++) {
      inputs.put("exits_" + word, stretch.exits().get(word));
    }
    return circuit
        .instance("pass_" + instances++ + "_through_" + stretch.bytes, block, inputs)
        .get("behind");
  }

  /** The block that passes a state through some bytes. */
  private Circuit passBlock(int bytes) {
    CircuitBuilder block =
        Circuit.named(
            array.name() + "_pass" + bytes,
            "The state behind "
                + bytes
                + (bytes == 1 ? " byte" : " bytes")
                + ", from that before.");
    Signal state = block.input("state", stateBits(), "count, late word, stopped, from bit 0");
    List<Signal> choices = new ArrayList<>();
    for (int word = 0; word < late.words(); word++) {
      choices.add(
          block.input("exits_" + word, bytes * stateBits(), "states that each start leads to"));
    }
    int bits = array.carryBits();
    Signal count = block.slice(state, 0, bits);
    Signal rest = block.slice(state, bits, stateBits() - bits);
    Signal stopped = block.bit(state, stateBits() - 1);
    Signal exits =
        late.count() == 0
            ? choices.get(0)
            : block.select(block.slice(state, bits, late.count()), choices);
    List<Signal> starts = new ArrayList<>();
    for (int i = 0; i < bytes; i++) {
      starts.add(block.slice(exits, i * stateBits(), stateBits()));
    }
    int indexBits = Math.max(1, RowFields.bits(bytes - 1));
    Signal exit = block.select(block.slice(count, 0, indexBits), starts);
    int wide = bits + 1;
    Signal width = block.constant(bytes, wide);
    Signal inside = block.lessThan(block.extend(count, wide), width);
    Signal taken = block.named(block.and(List.of(inside, block.not(stopped))), "starts_inside");
    Signal past = block.slice(block.subtract(count, width, wide), 0, bits);
    Signal passed = block.concat(List.of(past, rest));
    block.output("behind", block.mux(taken, exit, passed), "count, late word, stopped");
    return block.build();
  }

  /** The block that says where a start at one byte leads. */
  private Circuit leaf() {
    CircuitBuilder block =
        Circuit.named(array.name() + "_leaf", "The state behind a start at one byte.");
    Signal lengths =
        block.input("lengths", ports.lengthBits() * late.words(), "what the lane here says");
    Signal prefix = null;
    Signal initial = null;
    if (late.count() > 0) {
      prefix = block.input("prefix", late.prefixBits(), "what the byte is as prefix");
      initial = block.input(MarkPorts.INITIAL, late.count(), "late modes before any prefix");
    }
    List<Signal> words = MarkPorts.words(block, lengths, late.words());
    for (int word = 0; word < late.words(); word++) {
      List<Signal> state = new ArrayList<>();
      state.add(RippleMarks.minusOne(block, words.get(word), array.carryBits()));
      if (late.count() > 0) {
        state.add(late.behind(block, prefix, block.constant(word, late.count()), initial));
      }
      state.add(block.not(block.reduce(Node.Operation.OR, words.get(word))));
      block.output("exits_" + word, block.concat(state), "count, late word, stopped, from bit 0");
    }
    return block.build();
  }

  private Circuit outputs(Signal behind) {
    circuit.section("Start bits");
    List<Signal> starts = new ArrayList<>();
    List<Signal> fails = new ArrayList<>();
    List<Signal> offsets = new ArrayList<>();
    int bits = array.carryBits();
    for (int i = 0; i < array.windowBytes(); i++) {
      Signal state = states.get(i);
      Signal stopped = circuit.bit(state, stateBits() - 1);
      Signal start =
          circuit.and(
              List.of(circuit.equal(circuit.slice(state, 0, bits), 0), circuit.not(stopped)));
      List<Signal> handled = new ArrayList<>();
      for (Signal length : MarkPorts.words(circuit, ports.lengths(i), late.words())) {
        handled.add(circuit.reduce(Node.Operation.OR, length));
      }
      Signal isHandled =
          late.count() == 0
              ? handled.get(0)
              : circuit.select(circuit.slice(state, bits, late.count()), handled);
      starts.add(circuit.named(start, "start_" + i));
      fails.add(circuit.and(List.of(start, circuit.not(isHandled))));
      offsets.add(circuit.constant(i, array.offsetBits()));
    }
    circuit.output("start", circuit.concat(starts), "bit i: an item starts at byte i");
    return ports.build(
        fails,
        offsets,
        circuit.slice(behind, 0, bits),
        late.count() == 0 ? null : circuit.slice(behind, bits, late.count()),
        circuit.bit(behind, stateBits() - 1));
  }
}

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
 * <p>Each byte says, for each late word, where a start there leads: the state behind it (bytes to
 * the next start, late word, stopped). Neighbouring stretches of bytes are joined to longer ones
 * until half the window is reached: for every start in a stretch, the state behind the stretch and
 * the start bits inside it. The state at the window's first byte then chooses in one half, and the
 * state behind that in the other.
 */
final class LogarithmicMarks {

  private final MarkPorts ports;
  private final LaneArray array;
  private final LateModes late;
  private final CircuitBuilder circuit;
  private final Map<Integer, Circuit> passes = new TreeMap<>();
  private int instances;

  /** Some bytes side by side; where a start in them leads is built when it is first needed. */
  private final class Stretch {

    private final int bytes;
    private final Stretch left;
    private final Stretch right;
    private List<Signal> exits;

    Stretch(List<Signal> exits) {
      this.bytes = 1;
      this.left = null;
      this.right = null;
      this.exits = List.copyOf(exits);
    }

    Stretch(Stretch left, Stretch right) {
      this.bytes = left.bytes + right.bytes;
      this.left = left;
      this.right = right;
    }

    /**
     * Returns for each late word where a start at each byte leads, the first byte's lowest: the
     * state behind the stretch, then its start bits.
     */
    List<Signal> exits() {
      if (exits == null) {
        List<Signal> joined = new ArrayList<>();
        for (int word = 0; word < late.words(); word++) {
          List<Signal> parts = new ArrayList<>();
          for (int i = 0; i < left.bytes; i++) {
            Passed inLeft = left.exit(word, i);
            Passed inRight = pass(right, inLeft.behind());
            parts.addAll(List.of(inRight.behind(), inLeft.starts(), inRight.starts()));
          }
          for (int i = 0; i < right.bytes; i++) {
            Passed inRight = right.exit(word, i);
            Signal none = circuit.constant(0, left.bytes);
            parts.addAll(List.of(inRight.behind(), none, inRight.starts()));
          }
          joined.add(circuit.concat(parts));
        }
        exits = List.copyOf(joined);
      }
      return exits;
    }

    private Passed exit(int word, int position) {
      int from = position * (stateBits() + bytes);
      Signal all = exits().get(word);
      return new Passed(
          circuit.slice(all, from, stateBits()), circuit.slice(all, from + stateBits(), bytes));
    }
  }

  /** The state behind a stretch and the start bits inside it. */
  private record Passed(Signal behind, Signal starts) {}

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
      row.add(new Stretch(List.copyOf(outputs.values())));
    }
    while (row.size() > 2) {
      List<Stretch> joined = new ArrayList<>();
      for (int i = 0; i < row.size(); i += 2) {
        joined.add(i + 1 < row.size() ? new Stretch(row.get(i), row.get(i + 1)) : row.get(i));
      }
      row = joined;
    }
    List<Signal> entry = new ArrayList<>(List.of(ports.first));
    if (late.count() > 0) {
      entry.add(ports.word);
    }
    entry.add(ports.stopped);
    circuit.section("The halves of the window");
    Passed left = pass(row.get(0), circuit.concat(entry));
    Passed right = pass(row.get(1), left.behind());
    return outputs(circuit.concat(List.of(left.starts(), right.starts())), right.behind());
  }

  private Passed pass(Stretch stretch, Signal state) {
    Circuit block = passes.computeIfAbsent(stretch.bytes, this::passBlock);
    Map<String, Signal> inputs = new LinkedHashMap<>(Map.of("state", state));
    for (int word = 0; word < late.words(); word++) {
      inputs.put("exits_" + word, stretch.exits().get(word));
    }
    String name = "pass_" + instances++ + "_through_" + stretch.bytes;
    Map<String, Signal> outputs = circuit.instance(name, block, inputs);
    return new Passed(outputs.get("behind"), outputs.get("starts"));
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
          block.input(
              "exits_" + word,
              bytes * (stateBits() + bytes),
              "where a start at each byte leads: state behind all, start bits"));
    }
    int bits = array.carryBits();
    Signal count = block.slice(state, 0, bits);
    Signal rest = block.slice(state, bits, stateBits() - bits);
    Signal stopped = block.bit(state, stateBits() - 1);
    Signal exits =
        late.count() == 0
            ? choices.get(0)
            : block.select(block.slice(state, bits, late.count()), choices);
    int exitBits = stateBits() + bytes;
    List<Signal> starts = new ArrayList<>();
    for (int i = 0; i < bytes; i++) {
      starts.add(block.slice(exits, i * exitBits, exitBits));
    }
    int indexBits = Math.max(1, RowFields.bits(bytes - 1));
    Signal exit = block.select(block.slice(count, 0, indexBits), starts);
    int wide = bits + 1;
    Signal width = block.constant(bytes, wide);
    Signal inside = block.lessThan(block.extend(count, wide), width);
    Signal taken = block.named(block.and(List.of(inside, block.not(stopped))), "starts_inside");
    Signal past = block.slice(block.subtract(count, width, wide), 0, bits);
    Signal passed = block.concat(List.of(past, rest));
    block.output(
        "behind",
        block.mux(taken, block.slice(exit, 0, stateBits()), passed),
        "count, late word, stopped");
    block.output(
        "starts",
        block.mux(taken, block.slice(exit, stateBits(), bytes), block.constant(0, bytes)),
        "start bits inside");
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
      state.add(block.constant(1, 1));
      block.output(
          "exits_" + word, block.concat(state), "count, late word, stopped, start bit, from bit 0");
    }
    return block.build();
  }

  private Circuit outputs(Signal starts, Signal behind) {
    circuit.section("Start bits");
    circuit.output("start", circuit.named(starts, "starts"), "bit i: an item starts at byte i");
    int bits = array.carryBits();
    Signal halted = circuit.bit(behind, stateBits() - 1);
    Signal fails = circuit.and(List.of(halted, circuit.not(ports.stopped)));
    circuit.comment(fails, "the start that is not handled is the last one");
    List<Signal> isLast = new ArrayList<>();
    List<Signal> offsets = new ArrayList<>();
    int bytes = array.windowBytes();
    for (int i = 0; i < bytes; i++) {
      Signal after =
          i + 1 < bytes
              ? circuit.reduce(Node.Operation.OR, circuit.slice(starts, i + 1, bytes - i - 1))
              : circuit.constant(0, 1);
      isLast.add(circuit.and(List.of(fails, circuit.bit(starts, i), circuit.not(after))));
      offsets.add(circuit.constant(i, array.offsetBits()));
    }
    return ports.build(
        isLast,
        offsets,
        circuit.slice(behind, 0, bits),
        late.count() == 0 ? null : circuit.slice(behind, bits, late.count()),
        halted);
  }
}

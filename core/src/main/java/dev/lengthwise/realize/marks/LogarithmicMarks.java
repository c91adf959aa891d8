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
 * Start bits in logarithmic depth.
 *
 * <p>Where a start leads is said by its <em>distance</em>: bytes from the last byte looked at to
 * the next start, at least 1, or 0 if no item starts any more. So a byte's distance is its lane's
 * length as it is. Neighbouring stretches of bytes are joined to longer ones, up to a quarter of
 * the window: for every byte of a stretch, the distance behind the stretch if an item starts there.
 * The distance before the window is then passed through one stretch after the other.
 *
 * <p>Only a prefix item makes a late word other than that before any prefix, and it is one code
 * unit long. So a stretch answers for every late word at its first code unit only.
 */
final class LogarithmicMarks {

  /** The longest stretch that says its start bits for every start in it. */
  private static final int MOST_WITH_STARTS = 4;

  private final MarkPorts ports;
  private final LaneArray array;
  private final LateModes late;
  private final CircuitBuilder circuit;
  private final LogarithmicBlocks blocks;
  private final int unitBytes;
  private final int longest;
  private final List<Signal> starts = new ArrayList<>();
  private final List<Signal> fails = new ArrayList<>();
  private final List<Signal> failOffsets = new ArrayList<>();
  private int instances;

  /**
   * What is known between two bytes.
   *
   * @param distance bytes from the byte before to the next start; 0: no item starts any more
   * @param most the most that it can be
   * @param word the late word at that start; null if there is no late mode
   */
  private record State(Signal distance, int most, Signal word) {}

  /** Bytes side by side, and for each of them where a start there leads. */
  private final class Stretch {

    private final int from;
    private final int bytes;
    private final Stretch left;
    private final Stretch right;

    /** By byte, then by late word if the byte is in the first code unit. */
    private final List<List<Signal>> exits;

    Stretch(int from, List<Signal> exits) {
      this.from = from;
      this.bytes = 1;
      this.left = null;
      this.right = null;
      this.exits = List.of(exits);
    }

    Stretch(Stretch left, Stretch right) {
      this.from = left.from;
      this.bytes = left.bytes + right.bytes;
      this.left = left;
      this.right = right;
      this.exits = new ArrayList<>();
      for (List<Signal> places : left.exits) {
        exits.add(places.stream().map(this::joined).toList());
      }
      for (List<Signal> places : right.exits) {
        List<Signal> kept =
            exits.size() < unitBytes || places.size() == 1
                ? places
                : List.of(
                    circuit.suggested(
                        circuit.select(ports.initial, places), "exit_of_initial_word"));
        String name = "exit_at_" + (from + exits.size()) + "_in_" + bytes;
        exits.add(
            kept.stream()
                .map(exit -> circuit.suggested(exit(exit, right.bytes, left.bytes), name))
                .toList());
      }
    }

    private Signal joined(Signal exit) {
      Signal word = late.count() == 0 ? null : circuit.slice(exit, lengthBits(), late.count());
      State between = new State(circuit.slice(exit, 0, lengthBits()), longest, word);
      boolean withStarts = bytes <= MOST_WITH_STARTS;
      Map<String, Signal> passed = pass(right, between, withStarts);
      List<Signal> parts = new ArrayList<>();
      parts.add(circuit.slice(passed.get(LogarithmicBlocks.BEHIND), 0, lengthBits()));
      if (late.count() > 0) {
        parts.add(passed.get(LogarithmicBlocks.WORD_BEHIND));
      }
      if (withStarts) {
        parts.add(circuit.slice(exit, stateBits(), left.bytes));
        parts.add(passed.get(LogarithmicBlocks.STARTS));
      }
      return circuit.suggested(circuit.concat(parts), "exit_of_pass_" + (instances - 1));
    }

    /** Shows an exit of the right part, before which nothing starts, as one of the whole. */
    private Signal exit(Signal exit, int bytesRight, int bytesLeft) {
      Signal state = circuit.slice(exit, 0, stateBits());
      if (bytes > MOST_WITH_STARTS) {
        return state;
      }
      return circuit.concat(
          List.of(
              state, circuit.constant(0, bytesLeft), circuit.slice(exit, stateBits(), bytesRight)));
    }
  }

  LogarithmicMarks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.longest = array.lane().longest();
    this.unitBytes = array.lane().instructionSet().table().unit().bytes();
    this.ports =
        new MarkPorts(
            array,
            late,
            "Start bits of "
                + array.name()
                + ": stretches of bytes are joined, then the distance to the first start is passed"
                + " through them.");
    this.circuit = ports.circuit;
    this.blocks = new LogarithmicBlocks(array, late);
  }

  private int lengthBits() {
    return ports.lengthBits();
  }

  private int stateBits() {
    return lengthBits() + late.count();
  }

  Circuit build() {
    circuit.section("Where a start at each byte leads");
    List<Stretch> row = new ArrayList<>();
    for (int i = 0; i < array.windowBytes(); i++) {
      row.add(new Stretch(i, exitsOfByte(i)));
    }
    int quarter = Math.max(MOST_WITH_STARTS, (array.windowBytes() + 3) / 4);
    List<Stretch> stretches = new ArrayList<>();
    for (int i = 0; i < row.size(); i += most(quarter)) {
      stretches.add(joined(row.subList(i, Math.min(row.size(), i + most(quarter)))));
    }
    circuit.section("The window");
    State state = first();
    for (Stretch stretch : stretches) {
      state = through(stretch, state);
    }
    return outputs(state);
  }

  /** Returns the least power of two that is no less. */
  private static int most(int bytes) {
    return Integer.highestOneBit(2 * bytes - 1);
  }

  private Stretch joined(List<Stretch> row) {
    if (row.size() == 1) {
      return row.get(0);
    }
    int half = most(row.size()) / 2;
    return new Stretch(joined(row.subList(0, half)), joined(row.subList(half, row.size())));
  }

  private List<Signal> exitsOfByte(int position) {
    List<Signal> words = MarkPorts.words(circuit, ports.lengths(position), late.words());
    Signal one = circuit.constant(1, 1);
    if (late.count() == 0) {
      Signal exit = circuit.concat(List.of(words.get(0), one));
      return List.of(circuit.suggested(exit, "exit_at_" + position));
    }
    Map<String, Signal> behind =
        circuit.instance(
            "words_behind_" + position,
            blocks.words(),
            Map.of(
                LogarithmicBlocks.PREFIX,
                ports.prefixBits(position),
                MarkPorts.INITIAL,
                ports.initial));
    List<Signal> exits = new ArrayList<>();
    for (int word = 0; word < words.size(); word++) {
      Signal after = behind.get(LogarithmicBlocks.wordBehind(word));
      exits.add(
          circuit.suggested(
              circuit.concat(List.of(words.get(word), after, one)),
              "exit_at_" + position + "_word_" + word));
    }
    return exits;
  }

  private State first() {
    int most = Math.max(longest, array.windowBytes());
    int bits = RowFields.bits(most);
    Signal one = circuit.constant(1, 1);
    Signal distance =
        circuit.mux(ports.stopped, circuit.constant(0, bits), circuit.add(ports.first, one, bits));
    return new State(circuit.named(distance, "distance"), most, ports.word);
  }

  private Map<String, Signal> pass(Stretch stretch, State state, boolean withStarts) {
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put(LogarithmicBlocks.BEFORE, state.distance());
    if (late.count() > 0) {
      inputs.put(LogarithmicBlocks.WORD, state.word());
    }
    int bits = stateBits() + (withStarts ? stretch.bytes : 0);
    for (int place = 0; place < stretch.bytes; place++) {
      List<Signal> exits = stretch.exits.get(place);
      for (int word = 0; word < exits.size(); word++) {
        inputs.put(
            LogarithmicBlocks.exit(place, word, exits.size()),
            circuit.slice(exits.get(word), 0, bits));
      }
    }
    Circuit block = blocks.pass(stretch.bytes, state.most(), withStarts);
    return circuit.instance("pass_" + instances++ + "_through_" + stretch.bytes, block, inputs);
  }

  /** Passes the state through a stretch and collects the start bits inside. */
  private State through(Stretch stretch, State state) {
    boolean withStarts = stretch.bytes <= MOST_WITH_STARTS;
    Map<String, Signal> passed = pass(stretch, state, withStarts);
    State behind =
        new State(
            passed.get(LogarithmicBlocks.BEHIND),
            LogarithmicBlocks.mostBehind(state.most(), stretch.bytes, longest),
            passed.get(LogarithmicBlocks.WORD_BEHIND));
    if (withStarts) {
      collect(passed.get(LogarithmicBlocks.STARTS), state, behind);
    } else {
      State between = through(stretch.left, state);
      through(stretch.right, between);
    }
    return behind;
  }

  /** Adds the start bits of a stretch; if no item starts behind it, the last is not handled. */
  private void collect(Signal inside, State before, State behind) {
    int from = starts.stream().mapToInt(Signal::width).sum();
    starts.add(inside);
    Signal fails =
        circuit.and(
            List.of(
                circuit.reduce(Node.Operation.OR, before.distance()),
                circuit.equal(behind.distance(), 0)));
    this.fails.add(fails);
    Signal last = circuit.constant(from, array.offsetBits());
    for (int i = 1; i < inside.width(); i++) {
      Signal here = circuit.constant(from + i, array.offsetBits());
      last =
          circuit.suggested(
              circuit.mux(circuit.bit(inside, i), here, last), "last_start_to_" + (from + i));
    }
    failOffsets.add(last);
  }

  private Circuit outputs(State behind) {
    circuit.section("Start bits");
    circuit.output("start", circuit.concat(starts), "bit i: an item starts at byte i");
    int bits = Math.max(array.carryBits(), behind.distance().width());
    Signal carry =
        circuit.suggested(
            circuit.subtract(behind.distance(), circuit.constant(1, 1), bits), "carry_behind");
    return ports.build(
        fails,
        failOffsets,
        circuit.slice(carry, 0, array.carryBits()),
        behind.word(),
        circuit.named(circuit.equal(behind.distance(), 0), "halted"));
  }
}

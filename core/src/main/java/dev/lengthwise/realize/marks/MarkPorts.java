package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cells.InnerName;
import java.util.ArrayList;
import java.util.List;

/**
 * The ports that every block of marks has, whatever its form: the lanes' answers and the state
 * before the window in, the state behind it out.
 */
public final class MarkPorts {

  public static final String FIRST = "first_start";
  public static final String WORD = "late_word";
  public static final String INITIAL = "initial_word";
  public static final String STOPPED = "stopped";
  static final String NOT_HANDLED = "not_handled";
  static final String NOT_HANDLED_OFFSET = "not_handled_offset";
  public static final String USED = "used";
  public static final String VALID = "valid";
  public static final String REDIRECT = "redirect";
  public static final String OFFSET = "redirect_offset";
  public static final String RUNNING = "running";
  public static final String NEXT_CARRY = "next_carry";
  public static final String NEXT_CHANGED = "next_changed_modes";
  public static final String NEXT_WAITING = "next_waiting";

  final LaneArray array;
  final LateModes late;
  final CircuitBuilder circuit;
  final Signal first;
  final Signal stopped;

  /** The late word at the first start and that before any prefix; null if there is none. */
  final Signal word;

  final Signal initial;
  private final List<Signal> lengths = new ArrayList<>();
  private final List<Signal> prefixes = new ArrayList<>();

  public static String length(int position) {
    return "lane_length_" + position;
  }

  public static String prefix(int position) {
    return "prefix_" + position;
  }

  MarkPorts(LaneArray array, LateModes late, String summary) {
    this.array = array;
    this.late = late;
    this.circuit = Circuit.named(InnerName.of(array.name(), "marks", "starts"), summary);
    for (int i = 0; i < array.windowBytes(); i++) {
      lengths.add(
          circuit.input(
              length(i),
              lengthBits() * late.words(),
              late.count() == 0
                  ? "what lane " + i + " says"
                  : "what lane " + i + " says for each late word, word 0 lowest"));
    }
    for (int i = 0; i < array.windowBytes() && late.count() > 0; i++) {
      prefixes.add(circuit.input(prefix(i), late.prefixBits(), "what byte " + i + " is as prefix"));
    }
    this.first = circuit.input(FIRST, array.carryBits(), "where the first item starts");
    this.stopped = circuit.input(STOPPED, 1, "1: no item starts before a redirect");
    boolean modes = late.count() > 0;
    this.word = modes ? circuit.input(WORD, late.count(), "late modes at the first start") : null;
    this.initial =
        modes ? circuit.input(INITIAL, late.count(), "late modes before any prefix") : null;
  }

  int lengthBits() {
    return array.lane().lengthBits();
  }

  /** Returns all answers of a lane, one for each late word. */
  Signal lengths(int position) {
    return lengths.get(position);
  }

  /** Returns the prefix bits of a byte, or null if there is no late mode. */
  Signal prefixBits(int position) {
    return prefixes.isEmpty() ? null : prefixes.get(position);
  }

  /** Splits all answers of a lane into that for each late word. */
  static List<Signal> words(CircuitBuilder circuit, Signal lengths, int words) {
    int bits = lengths.width() / words;
    List<Signal> split = new ArrayList<>();
    for (int word = 0; word < words; word++) {
      split.add(circuit.slice(lengths, word * bits, bits));
    }
    return split;
  }

  /** Adds the outputs of the state behind the window and builds the block. */
  Circuit build(
      List<Signal> fails, List<Signal> failOffsets, Signal carry, Signal behind, Signal halted) {
    circuit.section("Not handled");
    circuit.output(
        NOT_HANDLED,
        circuit.and(List.of(halted, circuit.not(stopped))),
        "1: an item starts that no lane handles");
    circuit.output(
        NOT_HANDLED_OFFSET, chosen(circuit, fails, failOffsets), "where it starts; 0 if none does");
    circuit.section("State behind the window");
    circuit.output(
        NEXT_CARRY,
        circuit.mux(halted, circuit.constant(0, carry.width()), carry),
        "where the next window's first item starts");
    if (late.count() > 0) {
      circuit.output(
          NEXT_CHANGED,
          circuit.mux(
              halted, circuit.constant(0, late.count()), circuit.xor(List.of(behind, initial))),
          "late modes that a prefix before it has changed");
    }
    circuit.output(NEXT_WAITING, halted, "1: a redirect is needed");
    return circuit.build();
  }

  /** Returns the value whose flag is 1, of which at most one is; 0 if none is. */
  static Signal chosen(CircuitBuilder circuit, List<Signal> flags, List<Signal> values) {
    List<Signal> masked = new ArrayList<>();
    for (int i = 0; i < flags.size(); i++) {
      int width = values.get(i).width();
      Signal value = circuit.mux(flags.get(i), values.get(i), circuit.constant(0, width));
      masked.add(circuit.suggested(value, "offset_if_" + i + "_fails"));
    }
    return circuit.or(masked);
  }
}

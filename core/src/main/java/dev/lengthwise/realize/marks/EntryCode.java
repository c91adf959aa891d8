package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.EntryPlan;
import dev.lengthwise.realize.marks.Stages.Value;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntUnaryOperator;
import org.jspecify.annotations.Nullable;

/**
 * The code of entry states in bits, and the selection of one of as many rows by it. The code of no
 * state is 0 and selects 0.
 */
final class EntryCode {

  private static final String CODE = "code";
  private static final String SELECTED = "selected";

  private final String name;
  private final EntryPlan plan;
  private final Map<List<String>, Circuit> blocks = new LinkedHashMap<>();

  EntryCode(String name, EntryPlan plan) {
    this.name = name;
    this.plan = plan;
  }

  int bits() {
    return plan.codeBits();
  }

  /** Returns the code of a state, bit 0 first. */
  String of(int state) {
    long value = value(state);
    StringBuilder bits = new StringBuilder();
    for (int bit = 0; bit < bits(); bit++) {
      bits.append(value >> bit & 1);
    }
    return bits.toString();
  }

  /** Returns the code of a state as a number. */
  long value(int state) {
    return plan.isHalfDecoded() ? (state & 1) | 1L << (1 + state / 2) : state + 1;
  }

  /** Returns the state of a code that is known, or -1 if it is that of none. */
  int state(String code) {
    for (int state = 0; state < plan.states(); state++) {
      if (of(state).equals(code)) {
        return state;
      }
    }
    return -1;
  }

  /** Selects the row of a coded state; both are of the given cycle. */
  EntryRow select(CircuitBuilder circuit, String instance, Signal code, List<EntryRow> rows) {
    List<String> patterns = rows.stream().map(EntryRow::pattern).toList();
    String result = result(patterns);
    if (result.indexOf('-') < 0) {
      return EntryRow.known(result);
    }
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put(CODE, code);
    int cycle = 0;
    for (int state = 0; state < rows.size(); state++) {
      Value computed = rows.get(state).computed();
      if (computed != null) {
        inputs.put("row_" + state, computed.signal());
        cycle = computed.cycle();
      }
    }
    Circuit block = blocks.computeIfAbsent(patterns, this::build);
    Signal selected = circuit.instance(instance, block, inputs).get(SELECTED);
    return new EntryRow(result, Value.of(instance, selected, cycle));
  }

  /** A bit is 0 where it is 0 in every row; as no state selects 0, no bit is always 1. */
  private static String result(List<String> patterns) {
    StringBuilder bits = new StringBuilder();
    for (int bit = 0; bit < patterns.get(0).length(); bit++) {
      int place = bit;
      bits.append(patterns.stream().allMatch(p -> p.charAt(place) == '0') ? '0' : '-');
    }
    return bits.toString();
  }

  private Circuit build(List<String> patterns) {
    CircuitBuilder block =
        Circuit.named(
            name + "_select" + blocks.size(),
            "What follows from an entry, of what does from each.");
    Signal code = block.input(CODE, bits(), "the entry; 0: none");
    List<Signal> rows = new ArrayList<>();
    for (int state = 0; state < patterns.size(); state++) {
      String pattern = patterns.get(state);
      int computed = (int) pattern.chars().filter(bit -> bit == '-').count();
      Signal given =
          computed == 0
              ? null
              : block.input("row_" + state, computed, "what follows from entry " + state);
      rows.add(block.suggested(EntryRow.word(block, pattern, given), "row_" + state + "_whole"));
    }
    Signal selected =
        plan.isHalfDecoded() ? byPairs(block, code, rows, patterns) : byNumber(block, code, rows);
    block.output(
        SELECTED,
        EntryRow.computed(block, result(patterns), block.named(selected, "what_follows")),
        "what follows from the entry; 0 if there is none");
    return block.build();
  }

  private static Signal byNumber(CircuitBuilder block, Signal code, List<Signal> rows) {
    List<Signal> choices = new ArrayList<>();
    choices.add(block.constant(0, rows.get(0).width()));
    choices.addAll(rows);
    return block.select(code, choices);
  }

  private static Signal byPairs(
      CircuitBuilder block, Signal code, List<Signal> rows, List<String> patterns) {
    Signal low = block.bit(code, 0);
    Signal zero = block.constant(0, rows.get(0).width());
    List<Signal> terms = new ArrayList<>();
    for (int even = 0; even < rows.size(); even += 2) {
      int odd = Math.min(even + 1, rows.size() - 1);
      Signal pair = rows.get(even);
      if (odd != even
          && !(isKnown(patterns.get(odd)) && patterns.get(odd).equals(patterns.get(even)))) {
        pair = block.mux(low, rows.get(odd), pair);
      }
      Signal enabled = block.mux(block.bit(code, 1 + even / 2), pair, zero);
      terms.add(block.named(enabled, "pair_" + even / 2));
    }
    return block.or(terms);
  }

  private static boolean isKnown(String pattern) {
    return pattern.indexOf('-') < 0;
  }

  /** Decodes a number of a few bits from a coded state; 0 for none. */
  Signal decode(CircuitBuilder circuit, Signal code, int width, IntUnaryOperator numbers) {
    if (!plan.isHalfDecoded()) {
      long[] words = new long[1 << bits()];
      for (int state = 0; state < plan.states(); state++) {
        words[state + 1] = numbers.applyAsInt(state);
      }
      return circuit.lookup(code, Contents.of(width, words));
    }
    List<Signal> bits = new ArrayList<>();
    for (int bit = 0; bit < width; bit++) {
      bits.add(decodedBit(circuit, code, bit, numbers));
    }
    return circuit.concat(bits);
  }

  private Signal decodedBit(
      CircuitBuilder circuit, Signal code, int bit, IntUnaryOperator numbers) {
    Signal low = circuit.bit(code, 0);
    List<Signal> terms = new ArrayList<>();
    boolean isLow = true;
    for (int even = 0; even < plan.states(); even += 2) {
      boolean zero = (numbers.applyAsInt(even) >> bit & 1) != 0;
      boolean whole = even + 1 == plan.states();
      boolean one = whole ? zero : (numbers.applyAsInt(even + 1) >> bit & 1) != 0;
      isLow &= !zero && (whole || one);
      Signal pair = circuit.bit(code, 1 + even / 2);
      Signal half = zero == one ? pair : circuit.and(List.of(pair, zero ? circuit.not(low) : low));
      if (zero || one) {
        terms.add(half);
      }
    }
    return isLow ? low : terms.isEmpty() ? circuit.constant(0, 1) : circuit.or(terms);
  }

  /** Tells whether a code is that of no state. */
  Signal isNone(CircuitBuilder circuit, Signal code) {
    Signal some = plan.isHalfDecoded() ? circuit.slice(code, 1, bits() - 1) : code;
    return circuit.not(circuit.reduce(Node.Operation.OR, some));
  }

  /** Tells whether a code is that of a state. */
  Signal is(CircuitBuilder circuit, Signal code, int state) {
    return decode(circuit, code, 1, other -> other == state ? 1 : 0);
  }

  /**
   * Codes the state that a number stands for; -1 for none.
   *
   * <p>Half decoded by comparisons: of a choice between constants, synthesis makes the set and
   * reset of a register, behind as many levels again.
   */
  Signal encode(CircuitBuilder circuit, Signal number, IntUnaryOperator states) {
    int numbers = 1 << number.width();
    if (!plan.isHalfDecoded()) {
      long[] words = new long[numbers];
      for (int i = 0; i < numbers; i++) {
        int state = states.applyAsInt(i);
        words[i] = state < 0 ? 0 : value(state);
      }
      return circuit.lookup(number, Contents.of(bits(), words));
    }
    List<Signal> bits = new ArrayList<>();
    for (int bit = 0; bit < bits(); bit++) {
      List<Signal> ones = new ArrayList<>();
      for (int i = 0; i < numbers; i++) {
        int state = states.applyAsInt(i);
        if (state >= 0 && (value(state) >> bit & 1) != 0) {
          ones.add(circuit.equal(number, i));
        }
      }
      bits.add(ones.isEmpty() ? circuit.constant(0, 1) : circuit.or(ones));
    }
    return circuit.concat(bits);
  }

  /** Returns a signal of a row whose bits are all computed or known. */
  static Signal word(CircuitBuilder circuit, EntryRow row) {
    @Nullable Value computed = row.computed();
    return EntryRow.word(circuit, row.pattern(), computed == null ? null : computed.signal());
  }
}

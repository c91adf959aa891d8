package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.EntryPlan;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cells.InnerName;
import dev.lengthwise.realize.marks.Stages.Value;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Start bits in a pipeline whose loop is one selection.
 *
 * <p>For every entry state the exit of each byte is known from its lane; stretches side by side are
 * joined, in as many cycles as it takes, to the exits of the window. They are registered, and the
 * loop selects one by the registered entry. Start bits are columns beside the exits of short
 * stretches; behind the loop one selection by the entry, which by then is known, finishes them.
 *
 * <p>Nothing of control is in the loop: a redirect sets the entry to byte 0 and makes the bytes
 * before its offset items of one byte, whose start bits are masked at the end; a cycle without a
 * window makes each entry its own exit. What is not handled has no exit, which selects none from
 * then on.
 */
final class EntryMarks {

  private final LaneArray array;
  private final LateModes late;
  private final EntryPlan plan;
  private final EntryCode code;
  private final CircuitBuilder circuit;
  private final Stages stages;
  private final List<Value> lengths = new ArrayList<>();
  private final List<Value> prefixes = new ArrayList<>();
  private final @Nullable Value initial;

  private final Value valid;
  private final Value redirects;
  private final Value offset;

  /** Whether there was no redirect since reset, that of this window included. */
  private final Value fresh;

  EntryMarks(LaneArray array, LateModes late, EntryPlan plan) {
    this.array = array;
    this.late = late;
    this.plan = plan;
    this.code = new EntryCode(array.name(), plan);
    this.circuit =
        Circuit.named(
            InnerName.of(array.name(), "marks", "starts"),
            "Start bits of "
                + array.name()
                + ": where each entry leads is found first, then one is selected.");
    circuit.fact("levels a cycle", plan.levelsPerCycle() + ", of the loop " + plan.loopLevels());
    for (int i = 0; i < array.windowBytes(); i++) {
      int bits = array.lane().lengthBits() * late.words();
      String port = MarkPorts.length(i);
      lengths.add(Value.of(port, circuit.input(port, bits, "what lane " + i + " says"), 0));
    }
    for (int i = 0; i < array.windowBytes() && late.count() > 0; i++) {
      String port = MarkPorts.prefix(i);
      Signal bits = circuit.input(port, late.prefixBits(), "what byte " + i + " is as prefix");
      prefixes.add(Value.of(port, bits, 0));
    }
    String word = MarkPorts.INITIAL;
    this.initial =
        late.count() == 0
            ? null
            : Value.of(word, circuit.input(word, late.count(), "late modes before any prefix"), 0);
    Signal window = circuit.input(MarkPorts.VALID, 1, "1: there is a window");
    Signal redirect = circuit.input(MarkPorts.REDIRECT, 1, "1: its first item is at the offset");
    Signal place = circuit.input(MarkPorts.OFFSET, array.offsetBits(), "an offset in the window");
    Signal running = circuit.input(MarkPorts.RUNNING, 1, "0: all registers keep their values");
    this.stages = new Stages(circuit, running);
    circuit.section("Control");
    Signal taken = circuit.named(circuit.and(List.of(window, redirect)), "redirects");
    Signal ever = circuit.register("was_redirected", 1, 0);
    Signal now = circuit.named(circuit.or(List.of(ever, taken)), "is_redirected");
    stages.drive(ever, now);
    this.valid = Value.of("valid", window, 0, 0);
    this.redirects = Value.of("redirects", taken, 0);
    Signal gated = circuit.mux(taken, place, circuit.constant(0, place.width()));
    this.offset = Value.of("offset", circuit.named(gated, "offset_if_redirected"), 0);
    this.fresh = Value.of("is_fresh", circuit.not(now), 0, 1);
  }

  Circuit build() {
    EntryStretches stretches = new EntryStretches(circuit, stages, plan, code);
    Optional<Prefixed> prefixed =
        plan.sharesFarthest() ? Optional.of(prefixed()) : Optional.empty();
    circuit.section("Where each entry of a byte leads");
    EntryStretches.Stretch window =
        stretches.joined(bytes(prefixed.map(Prefixed::before).orElse(null)));
    circuit.section("The loop");
    List<EntryRow> exits = exits(window.rows().stream().map(stretches::codeOf).toList());
    Value entry = loop(exits);
    circuit.section("What follows from the entry");
    Value exit = exit(exits, entry);
    List<Signal> starts = new ArrayList<>();
    stretches.starts(window, entry, 0, starts);
    Value found = Value.of("starts", circuit.concat(starts), plan.startsCycle());
    new EntryOutputs(array, plan, code, circuit, stages)
        .add(
            new EntryOutputs.Found(valid, fresh, offset, exit, found),
            prefixed.map(Prefixed::behind).orElse(null),
            late.count());
    return circuit.build();
  }

  /** Whether a window's byte before the first is a prefix, and its last; both of cycle 1. */
  private record Prefixed(Value before, Value behind) {}

  private Prefixed prefixed() {
    circuit.section("Whether the last byte taken is a prefix");
    Signal last = circuit.bit(stages.at(prefixes.get(array.windowBytes() - 1), 1), 0);
    Signal before = circuit.register("ended_in_prefix", 1, 0);
    Signal behind = circuit.named(circuit.mux(stages.at(valid, 1), last, before), "ends_in_prefix");
    stages.drive(before, behind);
    return new Prefixed(
        Value.of("before_is_prefix", before, 1), Value.of("ends_in_prefix", behind, 1));
  }

  private List<EntryStretches.Stretch> bytes(@Nullable Value beforeIsPrefix) {
    EntryBytes bytes = new EntryBytes(array, late, plan, code);
    int before = plan.codeCycle() - 1;
    Signal place = stages.at(offset, before);
    List<EntryStretches.Stretch> row = new ArrayList<>();
    @Nullable Value behind = beforeIsPrefix;
    for (int i = 0; i < array.windowBytes(); i++) {
      Signal below = circuit.lessThan(circuit.constant(i, place.width()), place);
      @Nullable Value prefix = prefixes.isEmpty() ? null : prefixes.get(i);
      EntryBytes.Inputs in =
          new EntryBytes.Inputs(
              Integer.toString(i),
              lengths.get(i),
              prefix,
              initial,
              behind,
              Value.of("is_below_" + i, below, before));
      row.add(new EntryStretches.Stretch(i, 1, null, null, bytes.rows(circuit, stages, in)));
      if (behind != null) {
        Signal isPrefix = circuit.bit(stages.at(prefix, 1), 0);
        behind = Value.of("is_prefix_" + i, isPrefix, 1);
      }
    }
    return row;
  }

  /** The registers of the window's exits; where there is no window, each entry is its own. */
  private List<EntryRow> exits(List<EntryRow> found) {
    int before = plan.loopCycle() - 1;
    Signal none = circuit.not(stages.at(valid, before - 1));
    Value idle = Value.of("is_idle", none, before - 1);
    List<EntryRow> exits = new ArrayList<>();
    for (int state = 0; state < plan.states(); state++) {
      String own = code.of(state);
      EntryRow there = found.get(state).at(stages, before);
      StringBuilder pattern = new StringBuilder();
      for (int bit = 0; bit < own.length(); bit++) {
        boolean fixed = there.pattern().charAt(bit) == own.charAt(bit);
        pattern.append(fixed ? own.charAt(bit) : '-');
      }
      Signal next = EntryRow.computed(circuit, pattern.toString(), EntryCode.word(circuit, there));
      if (next == null) {
        exits.add(EntryRow.known(own));
        continue;
      }
      Signal kept = EntryRow.computed(circuit, pattern.toString(), EntryRow.constant(circuit, own));
      String name = "exit_of_entry_" + state;
      Signal register = circuit.dataRegister(name, next.width());
      stages.drive(register, circuit.mux(stages.at(idle, before), kept, next));
      exits.add(new EntryRow(pattern.toString(), Value.of(name, register, plan.loopCycle())));
    }
    return exits;
  }

  private Value loop(List<EntryRow> exits) {
    int cycle = plan.loopCycle();
    Signal entry = circuit.dataRegister("entry", code.bits());
    EntryRow next = code.select(circuit, "selects_entry", entry, exits);
    Signal first = EntryRow.constant(circuit, code.of(plan.state(0, 0)));
    Signal redirected = stages.at(redirects, cycle - 1);
    stages.drive(entry, circuit.mux(redirected, first, EntryCode.word(circuit, next)));
    return Value.of("entry", entry, cycle);
  }

  /** The exit of a window by its entry once more. */
  private Value exit(List<EntryRow> exits, Value entry) {
    int cycle = plan.selectCycle(0);
    List<EntryRow> rows = exits.stream().map(row -> row.at(stages, cycle)).toList();
    EntryRow exit = code.select(circuit, "selects_exit", stages.at(entry, cycle), rows);
    return Value.of("taken_exit", EntryCode.word(circuit, exit), cycle);
  }
}

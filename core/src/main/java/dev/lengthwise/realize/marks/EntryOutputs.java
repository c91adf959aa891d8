package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.EntryPlan;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.marks.Stages.Value;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** The outputs of {@link EntryMarks}, from the start bits and the exit of a window. */
final class EntryOutputs {

  /** Start bits that one LUT of four inputs looks at. */
  private static final int GROUP = 4;

  private final LaneArray array;
  private final EntryPlan plan;
  private final EntryCode code;
  private final CircuitBuilder circuit;
  private final Stages stages;

  /**
   * What was found of a window.
   *
   * @param valid whether there is one
   * @param fresh whether there was no redirect since reset
   * @param offset that of its redirect; 0 if it has none
   * @param exit the code of its exit, of no meaning before the first redirect
   * @param starts the start bits, those before the offset too
   */
  record Found(Value valid, Value fresh, Value offset, Value exit, Value starts) {}

  /** The last start of some bytes: whether there is one, and where. */
  private record Last(Value any, List<Value> place) {}

  EntryOutputs(
      LaneArray array, EntryPlan plan, EntryCode code, CircuitBuilder circuit, Stages stages) {
    this.array = array;
    this.plan = plan;
    this.code = code;
    this.circuit = circuit;
    this.stages = stages;
  }

  /** Adds them. */
  void add(Found found, @Nullable Value endsInPrefix, int lateModes) {
    int latency = plan.latency();
    circuit.section("Start bits");
    List<Value> starts = masked(found);
    circuit.output(
        "marks_valid", stages.at(found.valid(), latency), "1: the marks are those of a window");
    Value all =
        Value.of(
            "shown_starts",
            circuit.concat(starts.stream().map(Value::signal).toList()),
            plan.maskCycle());
    circuit.output("start", stages.at(all, latency), "bit i: an item starts at byte i");
    circuit.section("State behind the window");
    Signal exit = stages.at(found.exit(), plan.maskCycle());
    Value none = Value.of("has_no_exit", code.isNone(circuit, exit), plan.maskCycle());
    state(found, none, endsInPrefix, lateModes);
    circuit.section("Not handled");
    notHandled(starts, none);
  }

  /** Nothing starts before a redirect's offset, nor before the first redirect. */
  private List<Value> masked(Found found) {
    int cycle = plan.maskCycle();
    Signal place = stages.at(found.offset(), cycle - 1);
    Signal fresh = stages.at(found.fresh(), cycle - 1);
    Signal starts = stages.at(found.starts(), cycle);
    List<Value> masked = new ArrayList<>();
    for (int i = 0; i < array.windowBytes(); i++) {
      Signal below = circuit.lessThan(circuit.constant(i, place.width()), place);
      Signal shows = circuit.not(circuit.or(List.of(fresh, below)));
      Value mask = Value.of("shows_" + i, shows, cycle - 1);
      Signal start = circuit.and(List.of(circuit.bit(starts, i), stages.at(mask, cycle)));
      masked.add(Value.of("start_" + i, start, cycle));
    }
    return masked;
  }

  private void state(Found found, Value none, @Nullable Value endsInPrefix, int lateModes) {
    int decoded = plan.maskCycle();
    int next = plan.locateCycle(0);
    Signal exit = stages.at(found.exit(), decoded);
    Value carry =
        Value.of(
            "carry_of_exit", code.decode(circuit, exit, array.carryBits(), this::carry), decoded);
    Signal fresh = stages.at(found.fresh(), next);
    Signal hidden = fresh;
    if (lateModes > 0) {
      Signal changed =
          endsInPrefix == null
              ? code.decode(circuit, exit, lateModes, state -> changed(state, lateModes))
              : circuit.and(
                  List.of(
                      code.is(circuit, exit, plan.state(0, 1)), stages.at(endsInPrefix, decoded)));
      Signal late = stages.at(Value.of("changed_of_exit", changed, decoded), next);
      if (endsInPrefix != null) {
        hidden = circuit.or(List.of(fresh, late));
      }
      show(
          "changed_modes",
          unless(fresh, late),
          0,
          "late modes that a prefix before it has changed");
    }
    show(
        "carry",
        unless(hidden, stages.at(carry, next)),
        0,
        "where the next window's first item starts");
    Signal waits = circuit.or(List.of(fresh, stages.at(none, next)));
    show("waiting", waits, 1, "1: nothing starts before a redirect");
  }

  /** Adds an output of the state, which holds a value after reset too. */
  private void show(String port, Signal value, long reset, String doc) {
    Value shown = Value.of("shown_" + port, value, plan.locateCycle(0), reset);
    circuit.output(port, stages.at(shown, plan.latency()), doc);
  }

  private Signal unless(Signal condition, Signal word) {
    Signal kept = circuit.not(condition);
    List<Signal> bits = new ArrayList<>();
    for (int bit = 0; bit < word.width(); bit++) {
      bits.add(circuit.and(List.of(circuit.bit(word, bit), kept)));
    }
    return circuit.concat(bits);
  }

  /** Where a state's item starts; the shared state is here that of the farthest start. */
  private int carry(int state) {
    int longest = array.lane().longest();
    if (state < longest) {
      return state;
    }
    int unit = array.lane().instructionSet().table().unit().bytes();
    return (state - longest) * unit / (plan.states() - longest);
  }

  private int changed(int state, int lateModes) {
    int longest = array.lane().longest();
    return state < longest ? 0 : 1 + (state - longest) % ((1 << lateModes) - 1);
  }

  /** The last start is the one that is not handled if the window has no exit. */
  private void notHandled(List<Value> starts, Value none) {
    int step = 0;
    int cycle = plan.locateCycle(step);
    List<Last> row = new ArrayList<>();
    for (int from = 0; from < starts.size(); from += GROUP) {
      row.add(group(starts.subList(from, Math.min(starts.size(), from + GROUP)), from, cycle));
    }
    while (row.size() > 2) {
      cycle = plan.locateCycle(++step);
      List<Last> next = new ArrayList<>();
      for (int i = 0; i < row.size(); i += 2) {
        next.add(i + 1 == row.size() ? row.get(i) : later(row.get(i), row.get(i + 1), cycle, null));
      }
      row = next;
    }
    cycle = plan.locateCycle(++step);
    Signal stops = stages.at(none, cycle);
    Last last = later(row.get(0), row.size() > 1 ? row.get(1) : null, cycle, stops);
    int latency = plan.latency();
    circuit.output(
        MarkPorts.NOT_HANDLED,
        stages.at(last.any(), latency),
        "1: an item starts that no lane handles");
    Value place =
        Value.of(
            "not_handled_place",
            circuit.concat(last.place().stream().map(Value::signal).toList()),
            cycle);
    circuit.output(
        MarkPorts.NOT_HANDLED_OFFSET,
        circuit.slice(stages.at(place, latency), 0, array.offsetBits()),
        "where it starts; 0 if none does");
  }

  private Last group(List<Value> starts, int from, int cycle) {
    List<Signal> bits = starts.stream().map(start -> stages.at(start, cycle)).toList();
    Signal any = circuit.reduce(Node.Operation.OR, circuit.concat(bits));
    Signal zero = circuit.constant(0, 1);
    Signal third = bits.size() > 2 ? bits.get(2) : zero;
    Signal fourth = bits.size() > 3 ? bits.get(3) : zero;
    Signal second = bits.size() > 1 ? bits.get(1) : zero;
    Signal high = circuit.or(List.of(third, fourth));
    Signal low = circuit.or(List.of(fourth, circuit.and(List.of(circuit.not(third), second))));
    return new Last(
        Value.of("starts_in_" + from, any, cycle),
        List.of(
            Value.of("last_in_" + from + "_low", low, cycle),
            Value.of("last_in_" + from + "_high", high, cycle)));
  }

  /** Joins two neighbours; if told whether any counts, says nothing unless it does. */
  private Last later(Last left, @Nullable Last right, int cycle, @Nullable Signal counts) {
    List<Signal> place = new ArrayList<>();
    Signal any = stages.at(left.any(), cycle);
    String name = left.any().name();
    for (Value bit : left.place()) {
      place.add(stages.at(bit, cycle));
    }
    if (right != null) {
      Signal behind = stages.at(right.any(), cycle);
      for (int bit = 0; bit < place.size(); bit++) {
        Signal whenBehind =
            bit < right.place().size()
                ? stages.at(right.place().get(bit), cycle)
                : circuit.constant(0, 1);
        place.set(bit, circuit.mux(behind, whenBehind, place.get(bit)));
      }
      place.add(behind);
      any = circuit.or(List.of(any, behind));
    }
    List<Value> values = new ArrayList<>();
    for (int bit = 0; bit < place.size(); bit++) {
      Signal value = place.get(bit);
      Signal shown = counts == null ? value : circuit.and(List.of(counts, value));
      values.add(Value.of("last_of_" + (1 << place.size()) + "_" + name + "_" + bit, shown, cycle));
    }
    Signal shown = counts == null ? any : circuit.and(List.of(counts, any));
    return new Last(Value.of(name + "_of_" + (1 << place.size()), shown, cycle), values);
  }
}

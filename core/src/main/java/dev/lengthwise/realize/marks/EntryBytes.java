package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.EntryPlan;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.marks.Stages.Value;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/** For each byte of the window, what each entry makes of it: of few entries more than counting. */
final class EntryBytes {

  private static final String LENGTHS = "lengths";
  private static final String PREFIX = "prefix";
  private static final String BEHIND_PREFIX = "behind_prefix";
  private static final String FAR = "exit_of_far";

  private final LaneArray array;
  private final LateModes late;
  private final EntryPlan plan;
  private final EntryCode code;
  private final int unitBytes;
  private final boolean hasLate;
  private final @Nullable Circuit choose;
  private final Circuit coded;

  EntryBytes(LaneArray array, LateModes late, EntryPlan plan, EntryCode code) {
    this.array = array;
    this.late = late;
    this.plan = plan;
    this.code = code;
    this.unitBytes = array.lane().instructionSet().table().unit().bytes();
    // A prefix that is longer than any item is not handled.
    this.hasLate = late.count() > 0 && array.lane().longest() >= unitBytes;
    this.choose = late.count() > 0 ? buildChoose() : null;
    this.coded = buildCoded();
  }

  private int lengthBits() {
    return array.lane().lengthBits();
  }

  private static String length(int changed) {
    return "length" + (changed == 0 ? "" : "_changed_" + changed);
  }

  private static String changed(int before) {
    return "changed" + (before == 0 ? "" : "_from_" + before);
  }

  private static String exit(int changed) {
    return "exit_here" + (changed == 0 ? "" : "_changed_" + changed);
  }

  /** The changes of late modes that matter at a byte: none, or all where a prefix may be before. */
  private int words() {
    return hasLate ? late.words() : 1;
  }

  /** The block that chooses a lane's answers by the modes before any prefix. */
  private Circuit buildChoose() {
    CircuitBuilder block =
        Circuit.named(
            array.name() + "_choose",
            "What a lane says and what a prefix does, by the late modes that were changed before.");
    Signal lengths = block.input(LENGTHS, lengthBits() * late.words(), "what the lane says");
    Signal prefix = block.input(PREFIX, late.prefixBits(), "what the byte is as prefix");
    Signal initial = block.input(MarkPorts.INITIAL, late.count(), "late modes before any prefix");
    List<Signal> words = MarkPorts.words(block, lengths, late.words());
    for (int change = 0; change < words(); change++) {
      List<Signal> choices = new ArrayList<>();
      for (int word = 0; word < words.size(); word++) {
        choices.add(words.get(word ^ change));
      }
      block.output(length(change), block.select(initial, choices), "its length if that is changed");
      if (hasLate) {
        Signal before = block.xor(List.of(initial, block.constant(change, late.count())));
        Signal behind = late.behind(block, prefix, before, initial);
        block.output(
            changed(change), block.xor(List.of(behind, initial)), "late modes changed behind it");
      }
    }
    return block.build();
  }

  /** The block that codes them as states behind the byte. */
  private Circuit buildCoded() {
    CircuitBuilder block =
        Circuit.named(array.name() + "_coded", "The exit of a byte at which an item starts.");
    int longest = array.lane().longest();
    List<Signal> exits = new ArrayList<>();
    for (int change = 0; change < words(); change++) {
      Signal length = block.input(length(change), lengthBits(), "the item's length");
      Signal exit =
          code.encode(block, length, n -> n == 0 || n > longest ? -1 : plan.state(n - 1, 0));
      if (hasLate) {
        Signal behind = block.input(changed(change), late.count(), "late modes changed behind it");
        Signal prefixed =
            code.encode(block, behind, word -> word == 0 ? -1 : plan.state(unitBytes - 1, word));
        exit = block.mux(block.reduce(Node.Operation.OR, behind), prefixed, exit);
      }
      exits.add(block.named(exit, exit(change) + "_code"));
    }
    if (plan.sharesFarthest()) {
      Signal behind = block.input(BEHIND_PREFIX, 1, "1: the byte before is a prefix");
      Signal counted = EntryRow.constant(block, code.of(plan.state(array.lane().longest() - 2, 0)));
      block.output(
          FAR, block.mux(behind, exits.get(1), counted), "the exit if entered farthest or changed");
    }
    int shown = plan.sharesFarthest() ? 1 : exits.size();
    for (int change = 0; change < shown; change++) {
      block.output(exit(change), exits.get(change), "the exit if an item starts here");
    }
    return block.build();
  }

  /**
   * What the rows of a byte are made from.
   *
   * @param byteName the byte, for names
   * @param lengths what its lane says
   * @param prefix what it is as prefix; null if there are no late modes
   * @param initial late modes before any prefix; null likewise
   * @param behindPrefix whether the byte before is a prefix; null if no entry asks for it
   * @param below whether the byte is before a redirect's offset
   */
  record Inputs(
      String byteName,
      Value lengths,
      @Nullable Value prefix,
      @Nullable Value initial,
      @Nullable Value behindPrefix,
      Value below) {}

  /** Returns for each entry the code of the exit and whether an item starts at the byte. */
  List<EntryRow> rows(CircuitBuilder circuit, Stages stages, Inputs in) {
    Map<String, Signal> inputs = new LinkedHashMap<>();
    int cycle = plan.codeCycle();
    if (choose == null) {
      inputs.put(length(0), stages.at(in.lengths(), cycle));
    } else {
      int chosen = plan.chooseCycle();
      Map<String, Signal> given = new LinkedHashMap<>();
      given.put(LENGTHS, stages.at(in.lengths(), chosen));
      given.put(PREFIX, stages.at(in.prefix(), chosen));
      given.put(MarkPorts.INITIAL, stages.at(in.initial(), chosen));
      circuit
          .instance("choose_" + in.byteName(), choose, given)
          .forEach(
              (port, signal) ->
                  inputs.put(
                      port,
                      stages.at(Value.of(port + "_at_" + in.byteName(), signal, chosen), cycle)));
    }
    if (plan.sharesFarthest()) {
      inputs.put(BEHIND_PREFIX, stages.at(in.behindPrefix(), cycle));
    }
    Map<String, Signal> exits = circuit.instance("coded_" + in.byteName(), coded, inputs);
    List<EntryRow> rows = new ArrayList<>();
    for (int state = 0; state < plan.states(); state++) {
      rows.add(EntryRow.known("0".repeat(code.bits() + 1)));
    }
    for (int carry = 1; carry < array.lane().longest(); carry++) {
      rows.set(plan.state(carry, 0), EntryRow.known(code.of(plan.state(carry - 1, 0)) + "0"));
    }
    for (int change = 1; change < words() && !plan.sharesFarthest(); change++) {
      rows.set(
          plan.state(0, change),
          exit(circuit, in, exit(change), exits.get(exit(change)), EntryRow.known("1")));
      for (int carry = 1; carry < unitBytes; carry++) {
        rows.set(
            plan.state(carry, change),
            EntryRow.known(code.of(plan.state(carry - 1, change)) + "0"));
      }
    }
    if (plan.sharesFarthest()) {
      Signal behind = stages.at(in.behindPrefix(), cycle);
      EntryRow start = EntryRow.of(Value.of(BEHIND_PREFIX, behind, cycle));
      rows.set(plan.state(0, 1), exit(circuit, in, FAR, exits.get(FAR), start));
    }
    rows.set(plan.state(0, 0), first(circuit, stages, in, exits.get(exit(0))));
    return rows;
  }

  private EntryRow exit(
      CircuitBuilder circuit, Inputs in, String name, Signal exit, EntryRow start) {
    Value value = Value.of(name + "_at_" + in.byteName(), exit, plan.codeCycle());
    return EntryRow.of(value).with(circuit, start);
  }

  /** Bytes before a redirect's offset are items of a byte, so that the walk comes to it. */
  private EntryRow first(CircuitBuilder circuit, Stages stages, Inputs in, Signal exit) {
    int next = plan.codeCycle() + 1;
    String name = "exit_at_" + in.byteName();
    Signal register = circuit.dataRegister(name, exit.width());
    Signal one = EntryRow.constant(circuit, code.of(plan.state(0, 0)));
    stages.drive(register, circuit.mux(stages.at(in.below(), plan.codeCycle()), one, exit));
    return EntryRow.of(Value.of(name, register, next)).with(circuit, EntryRow.known("1"));
  }
}

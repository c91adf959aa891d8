package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.EntryPlan;
import dev.lengthwise.realize.marks.Stages.Value;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Joins what entries make of neighbouring stretches of bytes, and walks down again by one. */
final class EntryStretches {

  private final CircuitBuilder circuit;
  private final Stages stages;
  private final EntryPlan plan;
  private final EntryCode code;

  /**
   * Bytes side by side.
   *
   * @param from the first byte
   * @param bytes how many
   * @param left the first of two parts; null of a byte
   * @param right the second
   * @param rows for each entry the code of the exit and, if the stretch is short enough, the start
   *     bits inside
   */
  record Stretch(
      int from, int bytes, @Nullable Stretch left, @Nullable Stretch right, List<EntryRow> rows) {

    boolean hasStarts() {
      return bytes <= EntryPlan.MOST_WITH_STARTS;
    }

    int height() {
      return left == null ? 0 : 1 + Math.max(left.height(), right.height());
    }
  }

  EntryStretches(CircuitBuilder circuit, Stages stages, EntryPlan plan, EntryCode code) {
    this.circuit = circuit;
    this.stages = stages;
    this.plan = plan;
    this.code = code;
  }

  /** Joins bytes to one stretch; its first part is as long as a power of two can be. */
  Stretch joined(List<Stretch> row) {
    if (row.size() == 1) {
      return row.get(0);
    }
    int half = Integer.highestOneBit(row.size() - 1);
    return join(joined(row.subList(0, half)), joined(row.subList(half, row.size())));
  }

  private Stretch join(Stretch left, Stretch right) {
    int cycle = plan.joinCycle(Math.max(left.height(), right.height()));
    int bytes = left.bytes() + right.bytes();
    boolean withStarts = bytes <= EntryPlan.MOST_WITH_STARTS;
    List<EntryRow> rightRows = new ArrayList<>();
    for (EntryRow row : right.rows()) {
      EntryRow there = row.at(stages, cycle);
      rightRows.add(withStarts ? there : codeOf(there));
    }
    List<EntryRow> rows = new ArrayList<>();
    for (int state = 0; state < plan.states(); state++) {
      EntryRow entered = left.rows().get(state).at(stages, cycle);
      String name = "exit_of_" + state + "_from_" + left.from() + "_over_" + bytes;
      EntryRow passed = pass(name, codeOf(entered), rightRows);
      if (withStarts) {
        EntryRow before = entered.slice(circuit, "starts", code.bits(), left.bytes());
        EntryRow behind = passed.slice(circuit, "starts", code.bits(), right.bytes());
        passed = codeOf(passed).with(circuit, before).with(circuit, behind);
      }
      rows.add(named(passed, name, cycle));
    }
    return new Stretch(left.from(), bytes, left, right, rows);
  }

  private static EntryRow named(EntryRow row, String name, int cycle) {
    return row.isKnown()
        ? row
        : new EntryRow(row.pattern(), Value.of(name, row.computed().signal(), cycle));
  }

  EntryRow codeOf(EntryRow row) {
    return row.slice(circuit, "code", 0, code.bits());
  }

  private EntryRow pass(String name, EntryRow entry, List<EntryRow> rows) {
    if (!entry.isKnown()) {
      return code.select(circuit, "pass_" + name, EntryCode.word(circuit, entry), rows);
    }
    int state = code.state(entry.pattern());
    return state < 0 ? EntryRow.known("0".repeat(rows.get(0).pattern().length())) : rows.get(state);
  }

  /**
   * Adds the start bits of a stretch.
   *
   * @param entry its entry, as it is registered
   * @param depth the stretches around it
   * @param starts takes a word for each short stretch, the first bytes first
   */
  void starts(Stretch stretch, Value entry, int depth, List<Signal> starts) {
    if (stretch.hasStarts()) {
      int cycle = plan.startsCycle();
      List<EntryRow> rows = new ArrayList<>();
      for (EntryRow row : stretch.rows()) {
        rows.add(row.slice(circuit, "starts", code.bits(), stretch.bytes()).at(stages, cycle));
      }
      String name = "starts_from_" + stretch.from();
      Signal now = stages.at(entry, cycle);
      starts.add(EntryCode.word(circuit, code.select(circuit, name, now, rows)));
      return;
    }
    int cycle = plan.selectCycle(depth);
    List<EntryRow> rows = new ArrayList<>();
    for (EntryRow row : stretch.left().rows()) {
      rows.add(codeOf(row).at(stages, cycle));
    }
    String name = "entry_at_" + stretch.right().from();
    EntryRow between = code.select(circuit, "enters_" + name, stages.at(entry, cycle), rows);
    starts(stretch.left(), entry, depth + 1, starts);
    starts(
        stretch.right(),
        Value.of(name, EntryCode.word(circuit, between), cycle),
        depth + 1,
        starts);
  }
}

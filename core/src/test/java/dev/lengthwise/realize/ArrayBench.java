package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.simulate.CircuitSimulator;
import dev.lengthwise.golden.ArrayClock;
import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import java.util.HexFormat;
import java.util.List;

/** Runs an array's circuit in the built-in simulator beside its golden function. */
final class ArrayBench {

  private final LaneArray array;
  private final ArrayClock clock;
  private final CircuitSimulator simulator;
  private final List<String> modeNames;
  private final boolean full;
  private final boolean late;
  private long cycles;

  ArrayBench(Design design) {
    this.array = design.array().orElseThrow();
    this.clock = ArrayClock.of(array);
    this.simulator = CircuitSimulator.of(design.circuit());
    this.modeNames = array.lane().instructionSet().table().modes();
    this.full = !(array.marking() instanceof Marking.First);
    this.late = array.lateModes() != 0;
    simulator.reset(true);
    simulator.tick();
    simulator.reset(false);
  }

  ArrayClock clock() {
    return clock;
  }

  /** Gives both a cycle and compares every output that is fixed. */
  ArrayClock.Marks cycle(
      boolean valid, boolean stall, int modes, byte[] memory, int offset, int redirect) {
    set("window", bytes(memory, offset, array.windowBytes()));
    if (array.nextBytes() > 0) {
      set("next_code", bytes(memory, offset + array.windowBytes(), array.nextBytes()));
    }
    set("valid", valid ? 1 : 0);
    set("stall", stall ? 1 : 0);
    set("redirect", redirect == ArrayModel.NO_REDIRECT ? 0 : 1);
    set("redirect_offset", Math.max(0, redirect));
    for (int i = 0; i < modeNames.size(); i++) {
      set(modeNames.get(i), modes >> i & 1);
    }
    if (valid) {
      clock.offer(modes, memory, offset, redirect);
    }
    ArrayClock.Marks marks = clock.cycle(stall);
    String place =
        "%s, cycle %d: valid %s stall %s code %s modes %d redirect %d"
            .formatted(
                array,
                cycles++,
                valid,
                stall,
                HexFormat.of().formatHex(memory, offset, Math.min(memory.length, offset + 48)),
                modes,
                redirect);
    if (clock.isStateKnown()) {
      check(place, "carry", clock.carry());
      check(place, "waiting", clock.isWaiting() ? 1 : 0);
      if (late) {
        check(place, "changed_modes", compact(clock.changedModes()));
      }
    }
    if (valid && clock.isReadyKnown()) {
      check(place, "ready", clock.isReady() ? 1 : 0);
    }
    if (marks.isKnown()) {
      check(place, "marks_valid", marks.isValid() ? 1 : 0);
      if (marks.isValid()) {
        answers(place, marks);
      }
    }
    simulator.tick();
    return marks;
  }

  private void answers(String place, ArrayClock.Marks marks) {
    check(place, "not_handled", marks.notHandled() == ArrayModel.NONE ? 0 : 1);
    check(place, "not_handled_offset", Math.max(0, marks.notHandled()));
    if (full) {
      check(place, "start", Integer.toUnsignedLong(marks.starts()));
      return;
    }
    for (int i = 0; i < ((Marking.First) array.marking()).count(); i++) {
      check(place, "found_" + i, i < marks.count() ? 1 : 0);
      if (i < marks.count()) {
        check(place, "position_" + i, marks.position(i));
        check(place, "length_" + i, marks.length(i));
      }
    }
  }

  private int compact(int modes) {
    int word = 0;
    int bit = 0;
    for (int i = 0; i < modeNames.size(); i++) {
      if ((array.lateModes() >> i & 1) != 0) {
        word |= (modes >> i & 1) << bit++;
      }
    }
    return word;
  }

  private void check(String place, String port, long expected) {
    long found = simulator.get(simulator.output(port));
    if (found != expected) {
      assertWithMessage("%s of %s", port, place).that(found).isEqualTo(expected);
    }
  }

  private void set(String port, long value) {
    simulator.set(simulator.input(port), value);
  }

  private void set(String port, long[] value) {
    simulator.set(simulator.input(port), value);
  }

  private static long[] bytes(byte[] memory, int offset, int count) {
    long[] words = new long[(count + 7) / 8];
    for (int i = 0; i < count; i++) {
      long value = offset + i < memory.length ? memory[offset + i] & 0xff : 0;
      words[i / 8] |= value << 8 * (i % 8);
    }
    return words;
  }
}

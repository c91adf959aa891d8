package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.FetchClock;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.simulate.CircuitSimulator;
import dev.lengthwise.golden.ArrayClock;
import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.predecode.Marking;
import java.util.List;

/** Runs a fetch unit's circuit in the built-in simulator beside its golden function. */
final class FetchBench {

  private final FetchUnit unit;
  private final FetchClock clock;
  private final CircuitSimulator simulator;
  private final List<String> modeNames;
  private final boolean changes;
  private long cycles;

  FetchBench(Design design) {
    this.unit = design.unit().orElseThrow();
    this.clock = FetchClock.of(unit);
    this.simulator = CircuitSimulator.of(design.circuit());
    this.modeNames = unit.row().lane().instructionSet().table().modes();
    this.changes =
        design.circuit().ports().stream().map(Port::name).anyMatch("changed_modes"::equals);
    simulator.reset(true);
    simulator.tick();
    simulator.reset(false);
  }

  FetchClock clock() {
    return clock;
  }

  ArrayClock.Marks cycle(FetchClock.Inputs in, byte[] beat) {
    set("stall", in.stall());
    set("redirect", in.redirect());
    set("redirect_address", in.redirectAddress());
    for (int i = 0; i < modeNames.size(); i++) {
      set(modeNames.get(i), in.modes() >> i & 1);
    }
    set("flush", in.flush());
    set("flush_all", in.flushAll());
    set("flush_address", in.flushAddress());
    set("request_ready", in.requestReady());
    set("beat_valid", in.beatValid());
    simulator.set(simulator.input("beat"), words(beat));
    ArrayClock.Marks marks = clock.cycle(in, beat);
    String place = "%s, cycle %d: %s".formatted(unit, cycles++, in);
    check(place, "flush_ready", clock.isFlushReady());
    check(place, "request_valid", clock.isRequesting());
    if (clock.isRequesting()) {
      check(place, "request_address", clock.requestAddress());
    }
    check(place, "access_hit", clock.isHit());
    check(place, "access_miss", clock.isMiss());
    check(place, "access_evicts", clock.isEviction());
    check(place, "marks_valid", clock.isShown());
    if (clock.isShown()) {
      check(place, "window_address", clock.windowAddress());
      long[] found = new long[(clock.window().length + 7) / 8];
      simulator.get(simulator.output("window"), found);
      assertWithMessage("window of %s", place).that(found).isEqualTo(words(clock.window()));
    }
    if (clock.isShown() && marks.isKnown()) {
      answers(place, marks);
    }
    if (clock.isStateKnown()) {
      check(place, "carry", clock.carry());
      check(place, "waiting", clock.isWaiting());
      if (changes) {
        check(place, "changed_modes", compact(clock.changedModes()));
      }
    }
    simulator.tick();
    return marks;
  }

  private void answers(String place, ArrayClock.Marks marks) {
    check(place, "not_handled", marks.notHandled() != ArrayModel.NONE);
    check(place, "not_handled_offset", Math.max(0, marks.notHandled()));
    if (unit.row().marking() instanceof Marking.First first) {
      for (int i = 0; i < first.count(); i++) {
        check(place, "found_" + i, i < marks.count());
        if (i < marks.count()) {
          check(place, "position_" + i, marks.position(i));
          check(place, "length_" + i, marks.length(i));
        }
      }
    } else {
      check(place, "start", Integer.toUnsignedLong(marks.starts()));
    }
  }

  /** The late modes of a mode word side by side. */
  private int compact(int modes) {
    int word = 0;
    int bit = 0;
    for (int i = 0; i < modeNames.size(); i++) {
      if ((unit.row().lateModes() >> i & 1) != 0) {
        word |= (modes >> i & 1) << bit++;
      }
    }
    return word;
  }

  private void check(String place, String port, boolean expected) {
    check(place, port, expected ? 1 : 0);
  }

  private void check(String place, String port, long expected) {
    long found = simulator.get(simulator.output(port));
    if (found != expected) {
      assertWithMessage("%s of %s", port, place).that(found).isEqualTo(expected);
    }
  }

  private void set(String port, boolean value) {
    set(port, value ? 1 : 0);
  }

  private void set(String port, long value) {
    simulator.set(simulator.input(port), value);
  }

  private static long[] words(byte[] bytes) {
    long[] words = new long[(bytes.length + 7) / 8];
    for (int i = 0; i < bytes.length; i++) {
      words[i / 8] |= (bytes[i] & 0xffL) << 8 * (i % 8);
    }
    return words;
  }
}

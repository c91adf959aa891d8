package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node.Operation;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.List;

/** The block that fills a line: asks for it, gathers beats to windows, and says which have come. */
final class LineFill {

  private final FetchUnit unit;
  private final CacheWidths widths;
  private final boolean criticalFirst;
  private final CircuitBuilder circuit;

  LineFill(FetchUnit unit, CacheWidths widths, boolean criticalFirst) {
    this.unit = unit;
    this.widths = widths;
    this.criticalFirst = criticalFirst;
    this.circuit =
        Circuit.named(
            unit.name() + "_fill",
            "Fills a line: asks memory for it, gathers beats to windows, and says for each lookup"
                + " which way has its window already.");
  }

  Circuit build() {
    Signal looked = circuit.input("looked_number", widths.number(), "the window being looked up");
    Signal beatValid = circuit.input("beat_valid", 1, "1: memory sends a beat");
    Signal beat = circuit.input("beat", 8 * unit.beatBytes(), "its bytes, the first lowest");
    Signal start = circuit.input("start", 1, "1: a fill starts");
    Signal missed = circuit.input("missed_number", widths.number(), "the window that missed");
    Signal victim = circuit.input("victim", widths.way(), "the way that is filled");
    Signal requestReady = circuit.input("request_ready", 1, "1: memory takes the request");

    circuit.section("The fill under way");
    Signal active = circuit.register("active", 1, 0);
    Signal asking = circuit.register("asking", 1, 0);
    Signal line = circuit.dataRegister("line", widths.line());
    Signal way = circuit.dataRegister("filled_way", widths.way());
    Signal arrived = circuit.register("arrived", widths.windows(), 0);

    circuit.section("Beats");
    Signal taken =
        circuit.named(circuit.and(List.of(active, circuit.not(asking), beatValid)), "beat_taken");
    Signal whole = whole(taken, beat, start);

    circuit.section("Windows of the line");
    int windowBits = widths.window();
    Signal window = windowBits == 0 ? null : circuit.dataRegister("filled_window", windowBits);
    Signal here =
        window == null
            ? circuit.constant(1, 1)
            : circuit.suggested(CacheBlocks.oneHot(circuit, window, widths.windows()), "arrives");
    Signal now = circuit.named(circuit.or(List.of(arrived, here)), "arrived_now");
    Signal last =
        circuit.named(
            circuit.and(List.of(whole, circuit.reduce(Operation.AND, now))), "last_window");
    Signal none = circuit.constant(0, widths.windows());
    circuit.drive(arrived, circuit.mux(start, none, now), circuit.or(List.of(start, whole)));
    if (window != null) {
      Signal first =
          criticalFirst ? circuit.slice(missed, 0, windowBits) : circuit.constant(0, windowBits);
      Signal next = circuit.add(window, circuit.constant(1, windowBits), windowBits);
      circuit.drive(window, circuit.mux(start, first, next), circuit.or(List.of(start, whole)));
    }
    circuit.drive(active, start, circuit.or(List.of(start, last)));
    circuit.drive(asking, start, circuit.or(List.of(start, requestReady)));
    circuit.drive(line, circuit.slice(missed, windowBits, widths.line()), start);
    circuit.drive(way, victim, start);

    circuit.section("What has come of the set that is looked up");
    Signal sameSet = circuit.equal(widths.index(circuit, looked), widths.index(circuit, line));
    Signal came =
        windowBits == 0
            ? arrived
            : circuit.suggested(
                circuit.select(circuit.slice(looked, 0, windowBits), bits(arrived)), "has_arrived");
    Signal present = circuit.named(circuit.and(List.of(active, sameSet, came)), "present");
    Signal ways = circuit.named(CacheBlocks.oneHot(circuit, way, widths.ways()), "ways");

    circuit.output("filling", active, "1: a fill is under way");
    circuit.output("request_valid", asking, "1: memory shall send the line");
    circuit.output(
        "request_number",
        window == null ? line : circuit.concat(List.of(window, line)),
        "its first window");
    circuit.output("present_ways", masked(ways, present), "the way that has come so far");
    circuit.output("write_ways", masked(ways, whole), "the way that a window is written to");
    circuit.output("valid_ways", masked(ways, last), "the way whose line becomes valid");
    circuit.output("write_index", widths.index(circuit, line), "the set of the line");
    circuit.output("write_place", place(window, line), "the place of the window");
    return circuit.build();
  }

  private Signal place(Signal window, Signal line) {
    Signal index = widths.index(circuit, line);
    return window == null ? index : circuit.concat(List.of(window, index));
  }

  private List<Signal> bits(Signal signal) {
    List<Signal> bits = new ArrayList<>();
    for (int i = 0; i < signal.width(); i++) {
      bits.add(circuit.bit(signal, i));
    }
    return bits;
  }

  private Signal masked(Signal ways, Signal enable) {
    List<Signal> copies = new ArrayList<>();
    for (int i = 0; i < ways.width(); i++) {
      copies.add(enable);
    }
    return circuit.and(List.of(ways, circuit.concat(copies)));
  }

  /** Adds the gathering of beats and the output of a window; returns whether one is whole. */
  private Signal whole(Signal taken, Signal beat, Signal start) {
    int beats = unit.row().windowBytes() / unit.beatBytes();
    if (beats == 1) {
      circuit.output("new_window", beat, "the window that is written");
      return taken;
    }
    int bits = Integer.numberOfTrailingZeros(beats);
    Signal count = circuit.register("beat_count", bits, 0);
    Signal gathered = circuit.dataRegister("gathered", (beats - 1) * beat.width());
    Signal with = circuit.named(circuit.concat(List.of(gathered, beat)), "with_beat");
    circuit.drive(gathered, circuit.slice(with, beat.width(), gathered.width()), taken);
    circuit.drive(
        count,
        circuit.mux(
            start, circuit.constant(0, bits), circuit.add(count, circuit.constant(1, bits), bits)),
        circuit.or(List.of(start, taken)));
    circuit.output("new_window", with, "the window that is written");
    return circuit.named(
        circuit.and(List.of(taken, circuit.reduce(Operation.AND, count))), "window_whole");
  }
}

package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A fetch unit's outermost block: the cache, the marks, and the windows that go with them. */
public final class FetchTop {

  private final FetchUnit unit;
  private final LaneArray row;
  private final CacheWidths widths;
  private final CircuitBuilder circuit;

  public FetchTop(FetchUnit unit, Map<String, String> facts) {
    this.unit = unit;
    this.row = unit.row();
    this.widths = new CacheWidths(unit, 0);
    this.circuit =
        Circuit.named(
            unit.name(),
            "Fetches windows of "
                + row.windowBytes()
                + " bytes through an instruction cache and says where instructions of "
                + row.lane().instructionSet().table().name()
                + " start in them. Nothing is fetched before the first redirect.");
    facts.forEach(circuit::fact);
  }

  /** What comes from outside and is read in more than one place. */
  private record Inputs(Signal stall, Signal redirect, Signal address) {}

  /** Registers of a redirect: whether it waits for its window, and where it starts in it. */
  private record Entry(Signal entering, Signal offset, Map<String, Signal> modes) {}

  /** The window that the lanes see, and the valid bit of the one held for that, if it waits. */
  private record Seen(Optional<Signal> held, Signal offered, Signal window, Signal number) {}

  /**
   * Makes the block.
   *
   * @param cache the cache
   * @param array the lanes and marks
   * @return the fetch unit
   */
  public Circuit build(Circuit cache, Circuit array) {
    int addressBits = unit.cache().geometry().addressBits();
    Signal stall = circuit.input("stall", 1, "1: the marks stay as they are");
    Signal redirect = circuit.input("redirect", 1, "1: the stream goes on at redirect_address");
    Signal address = circuit.input("redirect_address", addressBits, "of a byte");
    Inputs in = new Inputs(stall, redirect, address);
    Map<String, Signal> modes = new LinkedHashMap<>();
    for (String mode : row.lane().instructionSet().table().modes()) {
      modes.put(mode, circuit.userInput(mode, 1, "mode " + mode + " at the target of a redirect"));
    }
    Map<String, Signal> cacheInputs = cacheInputs(in, addressBits);
    Entry entry = entry(redirect, modes);

    circuit.section("Cache");
    Map<String, Signal> given = cache(cache, cacheInputs, entry, address);
    Seen seen = seen(given);
    Map<String, Signal> marks = marks(array, in, entry, given, seen);
    Signal arrayReady = marks.get("ready");
    takeWindows(in, given, seen, arrayReady);
    Signal running = circuit.named(circuit.not(stall), "running");
    Signal entered = circuit.and(List.of(seen.offered(), running));
    circuit.drive(entry.entering(), redirect, circuit.or(List.of(redirect, entered)));
    circuit.drive(entry.offset(), circuit.slice(address, 0, row.offsetBits()), redirect);

    Shown shown = new Shown(Optional.empty(), seen.window(), seen.number());
    if (row.cuts().contains(PipelineCut.AFTER_LANES)) {
      circuit.section("With the cut after the lanes");
      shown = behind(shown, "lanes", arrayReady, redirect);
    }
    if (row.cuts().contains(PipelineCut.AFTER_MARKS)) {
      circuit.section("With the cut after the marks");
      shown = behind(shown, "marks", running, redirect);
    }
    outputs(given, marks, array, shown, addressBits - widths.number());
    return circuit.build();
  }

  private Map<String, Signal> cacheInputs(Inputs in, int addressBits) {
    Signal flush = circuit.input("flush", 1, "1: a flush is asked for");
    Signal flushAll = circuit.input("flush_all", 1, "1: of all lines, 0: of flush_address");
    Signal flushAddress = circuit.input("flush_address", addressBits, "of a byte of the line");
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put("request_ready", circuit.input("request_ready", 1, "1: memory takes the request"));
    inputs.put("beat_valid", circuit.input("beat_valid", 1, "1: memory sends a beat"));
    inputs.put("beat", circuit.input("beat", 8 * unit.beatBytes(), "its bytes, the first lowest"));
    inputs.put("redirect", in.redirect());
    inputs.put("flush", flush);
    inputs.put("flush_all", flushAll);
    inputs.put("flush_address", flushAddress);
    return inputs;
  }

  private Entry entry(Signal redirect, Map<String, Signal> modes) {
    circuit.section("Where the stream enters");
    Signal entering = circuit.register("entering", 1, 0);
    Signal offset = circuit.dataRegister("entry", row.offsetBits());
    Map<String, Signal> held = new LinkedHashMap<>();
    modes.forEach(
        (mode, input) -> {
          Signal register = circuit.dataRegister("entry_" + mode, 1);
          circuit.drive(register, input, redirect);
          held.put(mode, register);
        });
    return new Entry(entering, offset, held);
  }

  /** Adds the cache, which counts in windows and lines. */
  private Map<String, Signal> cache(
      Circuit cache, Map<String, Signal> inputs, Entry entry, Signal address) {
    int addressBits = address.width();
    inputs.put(
        "target_number", circuit.slice(address, addressBits - widths.number(), widths.number()));
    Signal flushAddress = inputs.remove("flush_address");
    inputs.put(
        "flush_line", circuit.slice(flushAddress, addressBits - widths.line(), widths.line()));
    entry
        .modes()
        .forEach(
            (mode, held) -> {
              String key = Port.keyOfUser(mode);
              if (cache.ports().stream().anyMatch(port -> port.key().equals(key))) {
                inputs.put(key, held);
              }
            });
    return circuit.instance(FetchProbes.CACHE, cache, inputs);
  }

  private Seen seen(Map<String, Signal> given) {
    Signal windowValid = given.get("window_valid");
    Signal window = given.get("window");
    Signal number = given.get("window_number");
    if (!unit.waitsForNext()) {
      return new Seen(Optional.empty(), windowValid, window, number);
    }
    circuit.section("A window waits for the one behind it");
    Signal held = circuit.register("held_valid", 1, 0);
    Signal heldWindow = circuit.dataRegister("held_window", window.width());
    Signal heldNumber = circuit.dataRegister("held_number", number.width());
    Signal offered = circuit.named(circuit.and(List.of(held, windowValid)), "pair_valid");
    return new Seen(Optional.of(held), offered, heldWindow, heldNumber);
  }

  private Map<String, Signal> marks(
      Circuit array, Inputs in, Entry entry, Map<String, Signal> given, Seen seen) {
    circuit.section("Lanes and marks");
    Map<String, Signal> inputs = new LinkedHashMap<>();
    for (Port port : array.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        inputs.put(
            port.key(),
            switch (port.key()) {
              case "window" -> seen.window();
              case "next_code" -> circuit.slice(given.get("window"), 0, port.width());
              case "valid" -> seen.offered();
              case "stall" -> in.stall();
              case "redirect" -> entry.entering();
              case "redirect_offset" -> entry.offset();
              default -> port.isOfUser() ? entry.modes().get(port.name()) : given.get(port.key());
            });
      }
    }
    return circuit.instance(FetchProbes.LANES_AND_MARKS, array, inputs);
  }

  /** Takes windows from the cache as the row is ready for them. */
  private void takeWindows(Inputs in, Map<String, Signal> given, Seen seen, Signal arrayReady) {
    Signal ready =
        seen.held()
            .map(
                held ->
                    circuit.named(
                        circuit.or(List.of(circuit.not(held), arrayReady)), "window_ready"))
            .orElse(arrayReady);
    circuit.connect(FetchProbes.CACHE, "window_ready", ready);
    seen.held()
        .ifPresent(
            held -> {
              Signal windowValid = given.get("window_valid");
              Signal taken =
                  circuit.named(circuit.and(List.of(windowValid, ready)), "window_taken");
              circuit.drive(seen.window(), given.get("window"), taken);
              circuit.drive(seen.number(), given.get("window_number"), taken);
              Signal redirect = in.redirect();
              circuit.drive(held, circuit.not(redirect), circuit.or(List.of(redirect, taken)));
            });
  }

  /** What goes with the marks: the window, and whether it is one behind the last redirect. */
  private record Shown(Optional<Signal> live, Signal window, Signal number) {}

  private Shown behind(Shown before, String cut, Signal takes, Signal redirect) {
    Signal live = circuit.register(cut + "_live", 1, 0);
    Signal stays = circuit.not(redirect);
    circuit.drive(
        live,
        before.live().map(signal -> circuit.and(List.of(signal, stays))).orElse(stays),
        circuit.or(List.of(takes, redirect)));
    Signal window = circuit.dataRegister(cut + "_window", before.window().width());
    circuit.drive(window, before.window(), takes);
    Signal number = circuit.dataRegister(cut + "_number", before.number().width());
    circuit.drive(number, before.number(), takes);
    return new Shown(Optional.of(live), window, number);
  }

  private void outputs(
      Map<String, Signal> given,
      Map<String, Signal> marks,
      Circuit array,
      Shown shown,
      int offsetBits) {
    circuit.output("window", shown.window(), "the bytes, the first in bits 7 to 0");
    circuit.output("window_address", address(shown.number(), offsetBits), "of its first byte");
    for (Port port : array.ports()) {
      if (port.direction() == Port.Direction.OUTPUT && !port.key().equals("ready")) {
        Signal value = marks.get(port.key());
        circuit.output(
            port.key(),
            port.key().equals("marks_valid")
                ? shown.live().map(live -> circuit.and(List.of(value, live))).orElse(value)
                : value,
            port.doc());
      }
    }
    circuit.output("flush_ready", given.get("flush_ready"), "1: a flush asked for is taken");
    circuit.output("request_valid", given.get("request_valid"), "1: memory shall send a line");
    circuit.output(
        "request_address",
        address(given.get("request_number"), offsetBits),
        "of the first byte wanted");
    circuit.output("access_hit", given.get("access_hit"), "1: an access found its window");
    circuit.output(
        "access_miss", given.get("access_miss"), "1: an access did not, and starts a fill");
    circuit.output("access_evicts", given.get("access_evicts"), "1: a valid line leaves");
  }

  private Signal address(Signal number, int offsetBits) {
    return circuit.concat(List.of(circuit.constant(0, offsetBits), number));
  }
}

package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.realize.cells.InnerName;
import dev.lengthwise.realize.row.LaneBlocks;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The cache of a fetch unit: the stream's address, the lookup in two cycles, and the blocks that
 * hold and fill lines. Lanes before the way multiplexer, or on fill, are inside it.
 */
public final class CacheCore {

  private final FetchUnit unit;
  private final CacheWidths widths;
  private final CacheBlocks blocks;
  private final Circuit row;
  private final boolean perWay;
  private final boolean onFill;
  private final boolean ahead;
  private final CircuitBuilder circuit;
  private final Map<String, Signal> modes = new LinkedHashMap<>();

  /** What the second cycle of a lookup knows. */
  private record Found(Signal hit, Signal way, Signal hits) {}

  public CacheCore(FetchUnit unit, Circuit row, int lutInputs) {
    this.unit = unit;
    this.row = row;
    this.perWay = unit.cache().predecode() instanceof PredecodePlace.PerWay;
    this.onFill = unit.cache().predecode() instanceof PredecodePlace.OnFill;
    this.ahead = unit.cache().tags() == TagPlace.DISTRIBUTED_RAM;
    this.widths = new CacheWidths(unit, onFill ? answerBits(row) : 0);
    this.blocks = new CacheBlocks(unit, widths, lutInputs);
    this.circuit =
        Circuit.named(
            InnerName.of(unit.name(), "cache", "lookup"),
            "Looks up window after window: the address is at the RAMs in one cycle, the window is"
                + " there, or a miss known, in the next. Hits go on while a line is filled.");
  }

  /** Returns the bits of all that the lanes say of a window. */
  static int answerBits(Circuit row) {
    return row.ports().stream()
        .filter(port -> port.direction() == Port.Direction.OUTPUT)
        .mapToInt(Port::width)
        .sum();
  }

  public Circuit build() {
    Signal redirect = circuit.input("redirect", 1, "1: the stream goes on at target_number");
    Signal target = circuit.input("target_number", widths.number(), "a window's number");
    Signal ready = circuit.input("window_ready", 1, "1: the window is taken");
    Signal flush = circuit.input("flush", 1, "1: a flush is asked for");
    Signal flushAll = circuit.input("flush_all", 1, "1: of all lines, 0: of flush_line");
    Signal flushLine = circuit.input("flush_line", widths.line(), "a line's number");
    Signal requestReady = circuit.input("request_ready", 1, "1: memory takes the request");
    Signal beatValid = circuit.input("beat_valid", 1, "1: memory sends a beat");
    Signal beat = circuit.input("beat", 8 * unit.beatBytes(), "its bytes, the first lowest");
    for (Port port : row.ports()) {
      if (perWay && port.isOfUser()) {
        modes.put(port.key(), circuit.userInput(port.name(), 1, port.doc()));
      }
    }

    circuit.section("The stream");
    Signal fetch = circuit.register("fetch_number", widths.number(), 0);
    Signal fetching = circuit.register("fetching", 1, 0);

    circuit.section("Flush");
    Signal pending = circuit.register("flush_pending", 1, 0);
    Signal looked = circuit.register("flush_looked", 1, 0);
    Signal whole = circuit.register("flush_whole", 1, 0);
    Signal resume = circuit.register("resume_number", widths.number(), 0);
    Signal flushTaken =
        circuit.named(circuit.and(List.of(flush, circuit.not(pending))), "flush_taken");

    circuit.section("First cycle: the address is at the RAMs");
    Signal number = fetch;
    Map<String, Signal> fill =
        circuit.instance(
            "line_fill",
            blocks.fill(),
            Map.of("looked_number", number, "beat_valid", beatValid, "beat", beat));
    Signal filling = fill.get("filling");
    Signal index = circuit.named(widths.index(circuit, number), "looked_index");
    Signal kept =
        circuit.instance("valid_lines", blocks.valid(), Map.of("index", index)).get("valid");
    Signal valid =
        circuit.named(circuit.or(List.of(kept, fill.get("present_ways"))), "looked_valid");

    circuit.section("Second cycle: what was looked up");
    Signal asked = circuit.register("asked_number", widths.number(), 0);
    Signal askedValid = circuit.register("asked_valid", 1, 0);
    Signal fresh = circuit.register("asked_fresh", 1, 0);
    Signal busy = circuit.register("asked_busy", 1, 0);
    Signal askedWays = circuit.register("asked_ways", widths.ways(), 0);
    Circuit tagStore = blocks.tags();
    List<Signal> tags = new ArrayList<>();
    for (int way = 0; way < widths.ways(); way++) {
      Map<String, Signal> inputs = ahead ? Map.of("index", index) : Map.of();
      tags.add(circuit.instance("way_tags_" + way, tagStore, inputs).get("tag"));
    }
    Found looks = compare(ahead ? number : asked, ahead ? valid : askedWays, tags);
    Found found = looks;
    if (ahead) {
      found =
          new Found(
              circuit.register("asked_hit", 1, 0),
              circuit.register("asked_way", widths.way(), 0),
              circuit.register("asked_hits", widths.ways(), 0));
    }
    Signal offered = circuit.named(circuit.and(List.of(askedValid, found.hit())), "offered");
    Signal moves = circuit.named(circuit.or(List.of(circuit.not(offered), ready)), "moves");
    Signal again =
        circuit.named(circuit.and(List.of(askedValid, circuit.not(found.hit()))), "look_again");
    Signal start = circuit.named(circuit.and(List.of(again, circuit.not(busy))), "start_fill");
    Signal used = circuit.named(circuit.and(List.of(offered, fresh)), "used");
    words(number, moves, fill, found);

    circuit.section("Where the line comes into");
    Signal askedIndex = circuit.named(widths.index(circuit, asked), "asked_index");
    Map<String, Signal> choice =
        circuit.instance(
            "victim_choice",
            new VictimChoice(unit, widths).build(),
            Map.of(
                "index", askedIndex,
                "valid", askedWays,
                "start", start,
                "hit", used,
                "hit_way", found.way()));
    Signal victim = choice.get("victim");
    Signal victimBits =
        circuit.suggested(CacheBlocks.oneHot(circuit, victim, widths.ways()), "victim_one_hot");
    Signal victimWays = circuit.named(masked(victimBits, start), "victim_ways");
    circuit.connect("line_fill", "start", start);
    circuit.connect("line_fill", "missed_number", asked);
    circuit.connect("line_fill", "victim", victim);
    circuit.connect("line_fill", "request_ready", requestReady);
    for (int way = 0; way < widths.ways(); way++) {
      String tagWay = "way_tags_" + way;
      if (!ahead) {
        circuit.connect(tagWay, "index", index);
        circuit.connect(tagWay, "read", moves);
      }
      circuit.connect(tagWay, "write", circuit.bit(victimWays, way));
      circuit.connect(tagWay, "write_index", askedIndex);
      circuit.connect(tagWay, "new_tag", widths.tag(circuit, asked));
    }

    circuit.section("Valid bits: a fill clears the victim's and sets it at the end");
    Signal flushes =
        circuit.suggested(circuit.and(List.of(looked, circuit.not(whole))), "flushes_line");
    Signal flushed = circuit.suggested(masked(found.hits(), flushes), "flushed_ways");
    Signal cleared = circuit.or(List.of(victimWays, flushed));
    circuit.connect("valid_lines", "write", circuit.mux(filling, fill.get("valid_ways"), cleared));
    circuit.connect(
        "valid_lines", "write_index", circuit.mux(filling, fill.get("write_index"), askedIndex));
    circuit.connect("valid_lines", "value", filling);
    circuit.connect("valid_lines", "clear", circuit.and(List.of(looked, whole)));

    circuit.section("Next cycle");
    Signal advances =
        circuit.named(
            circuit.and(List.of(fetching, moves, circuit.not(again), circuit.not(pending))),
            "advances");
    Signal stays = circuit.not(flushTaken);
    Signal back =
        circuit.named(
            circuit.or(List.of(again, circuit.and(List.of(flushTaken, circuit.not(moves))))),
            "goes_back");
    Signal onward = circuit.and(List.of(advances, stays));
    Signal one = circuit.constant(1, widths.number());
    Signal following =
        circuit.suggested(
            circuit.mux(onward, circuit.add(fetch, one, widths.number()), fetch), "following");
    Signal looksNext = circuit.suggested(circuit.mux(back, asked, following), "following_or_again");
    Signal unlessRedirected =
        circuit.suggested(circuit.mux(pending, resume, looksNext), "resumed_unless_redirected");
    Signal resumed = circuit.named(circuit.mux(redirect, target, unlessRedirected), "resumed");
    circuit.drive(
        resume, circuit.comment(resumed, "where the stream goes on, during a flush behind it"));
    Signal flushNumber =
        widths.window() == 0
            ? flushLine
            : circuit.concat(List.of(circuit.constant(0, widths.window()), flushLine));
    Signal flushing = circuit.and(List.of(pending, circuit.not(looked)));
    circuit.drive(fetch, circuit.mux(flushTaken, flushNumber, resumed), circuit.not(flushing));
    circuit.drive(fetching, circuit.constant(1, 1), redirect);
    circuit.drive(
        askedValid,
        circuit.and(
            List.of(
                circuit.not(redirect), stays, circuit.or(List.of(advances, circuit.not(moves))))));
    circuit.drive(fresh, moves);
    circuit.drive(asked, number, moves);
    circuit.drive(busy, filling, moves);
    circuit.drive(askedWays, valid, moves);
    if (ahead) {
      circuit.drive(found.hit(), looks.hit(), moves);
      circuit.drive(found.way(), looks.way(), moves);
      circuit.drive(found.hits(), looks.hits(), moves);
    }
    circuit.drive(
        pending,
        circuit.or(List.of(flushTaken, circuit.and(List.of(pending, circuit.not(looked))))));
    circuit.drive(looked, circuit.and(List.of(pending, circuit.not(looked), circuit.not(filling))));
    circuit.drive(whole, flushAll, flushTaken);

    circuit.output("window_valid", offered, "1: the window looked up is there");
    circuit.output("window_number", asked, "its number");
    circuit.output("flush_ready", circuit.not(pending), "1: a flush that is asked for is taken");
    circuit.output("request_valid", fill.get("request_valid"), "1: memory shall send a line");
    circuit.output("request_number", fill.get("request_number"), "the first window of it");
    circuit.output("access_hit", used, "1: an access found its window");
    circuit.output("access_miss", start, "1: an access did not, and starts a fill");
    circuit.output(
        "access_evicts", circuit.and(List.of(start, choice.get("full"))), "1: a line leaves");
    return circuit.build();
  }

  private Found compare(Signal number, Signal valid, List<Signal> tags) {
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put("wanted", widths.tag(circuit, number));
    inputs.put("valid", valid);
    for (int way = 0; way < tags.size(); way++) {
      inputs.put("tag_" + way, tags.get(way));
    }
    Map<String, Signal> outputs = circuit.instance("tag_compare", blocks.compare(), inputs);
    return new Found(outputs.get("hit"), outputs.get("way"), outputs.get("hits"));
  }

  /** Adds the data RAMs, the lanes beside them, and the way multiplexer with its outputs. */
  private void words(Signal number, Signal moves, Map<String, Signal> fill, Found found) {
    circuit.section("Data");
    int windowBits = 8 * unit.row().windowBytes();
    Circuit dataStore = blocks.data();
    Signal stored = fill.get("new_window");
    if (onFill) {
      stored = withAnswers("fill_row", stored);
    }
    List<Signal> words = new ArrayList<>();
    for (int way = 0; way < widths.ways(); way++) {
      String name = "way_data_" + way;
      Map<String, Signal> inputs = new LinkedHashMap<>();
      inputs.put("place", widths.place(circuit, number));
      inputs.put("read", moves);
      inputs.put("write", circuit.bit(fill.get("write_ways"), way));
      inputs.put("write_place", fill.get("write_place"));
      inputs.put("new_word", stored);
      Signal word = circuit.instance(name, dataStore, inputs).get("word");
      words.add(perWay ? withAnswers("row_" + way, word) : word);
    }
    Signal word = circuit.named(circuit.select(found.way(), words), "selected");
    circuit.output("window", circuit.slice(word, 0, windowBits), "its bytes, the first lowest");
    int low = windowBits;
    for (Port port : row.ports()) {
      if ((perWay || onFill) && port.direction() == Port.Direction.OUTPUT) {
        circuit.output(port.key(), circuit.slice(word, low, port.width()), port.doc());
        low += port.width();
      }
    }
  }

  /** Returns a window with what the lanes say of it above. */
  private Signal withAnswers(String name, Signal window) {
    Map<String, Signal> inputs = new LinkedHashMap<>(modes);
    inputs.put(LaneBlocks.CODE, window);
    List<Signal> parts = new ArrayList<>(List.of(window));
    parts.addAll(circuit.instance(name, row, inputs).values());
    return circuit.concat(parts);
  }

  private Signal masked(Signal ways, Signal enable) {
    List<Signal> copies = new ArrayList<>();
    for (int i = 0; i < ways.width(); i++) {
      copies.add(enable);
    }
    return circuit.and(List.of(ways, circuit.concat(copies)));
  }
}

package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.RamFit;
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

  private static final String LINE_FILL = "line_fill";
  private static final String VALID_LINES = "valid_lines";

  private final FetchUnit unit;
  private final CacheWidths widths;
  private final CacheBlocks blocks;
  private final RamFit fit;
  private final Circuit row;
  private final boolean perWay;
  private final boolean onFill;
  private final boolean ahead;
  private final CircuitBuilder circuit;
  private final Map<String, Signal> modes = new LinkedHashMap<>();

  /** What the second cycle of a lookup knows. */
  private record Found(Signal hit, Signal way, Signal hits) {}

  public CacheCore(FetchUnit unit, Circuit row, int lutInputs, RamFit fit) {
    this.unit = unit;
    this.fit = fit;
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

  /** The stream: the number of the window at the RAMs, and whether there is one. */
  private record Stream(Signal number, Signal fetching) {}

  /** What comes from outside: those of a flush and of memory by name. */
  private record Inputs(
      Signal redirect,
      Signal target,
      Signal ready,
      Map<String, Signal> flush,
      Map<String, Signal> memory) {}

  /** The registers of a flush, and whether one is taken in this cycle. */
  private record Flush(Signal pending, Signal looked, Signal whole, Signal resume, Signal taken) {}

  /** What is known in the first cycle of a lookup. */
  private record First(Map<String, Signal> fill, Signal index, Signal valid) {}

  /** The registers of the second cycle. */
  private record Asked(Signal number, Signal valid, Signal fresh, Signal busy, Signal ways) {}

  /** What the second cycle decides. */
  private record Decision(Signal offered, Signal moves, Signal again, Signal start, Signal used) {}

  /** Whether the second cycle moves, the stream goes on or stays, and where it does. */
  private record Step(Signal moves, Signal advances, Signal stays, Signal resumed) {}

  /** Makes the block: the steps of a lookup, in the order in which its text reads. */
  public Circuit build() {
    Inputs in = inputs();
    circuit.section("The stream");
    Stream stream =
        new Stream(
            circuit.dataRegister("fetch_number", widths.number()),
            circuit.register("fetching", 1, 0));
    Flush flush = flush(in);
    First first = first(in, stream);
    circuit.section("Second cycle: what was looked up");
    Asked asked = asked();
    List<Signal> tags = tags(first.index());
    Found looks =
        compare(
            ahead ? stream.number() : asked.number(), ahead ? first.valid() : asked.ways(), tags);
    Found found = ahead ? registered() : looks;
    Decision decision = decide(in, asked, found);
    words(stream.number(), decision.moves(), first.fill(), found);

    circuit.section("Where the line comes into");
    Signal askedIndex = circuit.named(widths.index(circuit, asked.number()), "asked_index");
    Map<String, Signal> choice = choice(askedIndex, asked, decision, found);
    Signal victimWays = fill(in, asked, choice.get("victim"), decision.start());
    writeTags(first, asked, decision.moves(), askedIndex, victimWays);
    setValid(first, flush, found, askedIndex, victimWays);

    circuit.section("Next cycle");
    Step step = step(in, stream, flush, asked, decision);
    driveStream(in, stream, flush, step.resumed());
    driveAsked(in, asked, stream, first, step);
    if (ahead) {
      circuit.drive(found.hit(), looks.hit(), decision.moves());
      circuit.drive(found.way(), looks.way(), decision.moves());
      circuit.drive(found.hits(), looks.hits(), decision.moves());
    }
    driveFlush(in, flush, first.fill().get("filling"));
    outputs(flush, first.fill(), asked, decision, choice.get("full"));
    return circuit.build();
  }

  private Inputs inputs() {
    Signal redirect = circuit.input("redirect", 1, "1: the stream goes on at target_number");
    Signal target = circuit.input("target_number", widths.number(), "a window's number");
    Signal ready = circuit.input("window_ready", 1, "1: the window is taken");
    Map<String, Signal> flush = new LinkedHashMap<>();
    flush.put("flush", circuit.input("flush", 1, "1: a flush is asked for"));
    flush.put("all", circuit.input("flush_all", 1, "1: of all lines, 0: of flush_line"));
    flush.put("line", circuit.input("flush_line", widths.line(), "a line's number"));
    Map<String, Signal> memory = new LinkedHashMap<>();
    memory.put("request_ready", circuit.input("request_ready", 1, "1: memory takes the request"));
    memory.put("beat_valid", circuit.input("beat_valid", 1, "1: memory sends a beat"));
    memory.put("beat", circuit.input("beat", 8 * unit.beatBytes(), "its bytes, the first lowest"));
    for (Port port : row.ports()) {
      if (perWay && port.isOfUser()) {
        modes.put(port.key(), circuit.userInput(port.name(), 1, port.doc()));
      }
    }
    return new Inputs(redirect, target, ready, flush, memory);
  }

  private Flush flush(Inputs in) {
    circuit.section("Flush");
    Signal pending = circuit.register("flush_pending", 1, 0);
    Signal looked = circuit.register("flush_looked", 1, 0);
    Signal whole = circuit.register("flush_whole", 1, 0);
    Signal resume = circuit.dataRegister("resume_number", widths.number());
    Signal asks = in.flush().get("flush");
    Signal taken = circuit.named(circuit.and(List.of(asks, circuit.not(pending))), "flush_taken");
    return new Flush(pending, looked, whole, resume, taken);
  }

  private First first(Inputs in, Stream stream) {
    circuit.section("First cycle: the address is at the RAMs");
    Map<String, Signal> fill =
        circuit.instance(
            LINE_FILL,
            blocks.fill(),
            Map.of(
                "looked_number", stream.number(),
                "beat_valid", in.memory().get("beat_valid"),
                "beat", in.memory().get("beat")));
    Signal index = circuit.named(widths.index(circuit, stream.number()), "looked_index");
    Signal kept =
        circuit.instance(VALID_LINES, blocks.valid(), Map.of("index", index)).get("valid");
    Signal valid =
        circuit.named(circuit.or(List.of(kept, fill.get("present_ways"))), "looked_valid");
    return new First(fill, index, valid);
  }

  private Asked asked() {
    return new Asked(
        circuit.dataRegister("asked_number", widths.number()),
        circuit.register("asked_valid", 1, 0),
        circuit.register("asked_fresh", 1, 0),
        circuit.register("asked_busy", 1, 0),
        circuit.dataRegister("asked_ways", widths.ways()));
  }

  /** Adds the tag RAMs. */
  private List<Signal> tags(Signal index) {
    Circuit tagStore = blocks.tags();
    List<Signal> tags = new ArrayList<>();
    for (int way = 0; way < widths.ways(); way++) {
      Map<String, Signal> inputs = ahead ? Map.of("index", index) : Map.of();
      tags.add(circuit.instance(FetchProbes.wayTags(way), tagStore, inputs).get("tag"));
    }
    return tags;
  }

  /** Where tags are compared ahead, what was found is registered. */
  private Found registered() {
    return new Found(
        circuit.register("asked_hit", 1, 0),
        circuit.dataRegister("asked_way", widths.way()),
        circuit.dataRegister("asked_hits", widths.ways()));
  }

  private Decision decide(Inputs in, Asked asked, Found found) {
    Signal offered = circuit.named(circuit.and(List.of(asked.valid(), found.hit())), "offered");
    Signal moves = circuit.named(circuit.or(List.of(circuit.not(offered), in.ready())), "moves");
    Signal again =
        circuit.named(circuit.and(List.of(asked.valid(), circuit.not(found.hit()))), "look_again");
    Signal start =
        circuit.named(circuit.and(List.of(again, circuit.not(asked.busy()))), "start_fill");
    Signal used = circuit.named(circuit.and(List.of(offered, asked.fresh())), "used");
    return new Decision(offered, moves, again, start, used);
  }

  private Map<String, Signal> choice(Signal index, Asked asked, Decision decision, Found found) {
    return circuit.instance(
        "victim_choice",
        new VictimChoice(unit, widths, fit).build(),
        Map.of(
            "index", index,
            "valid", asked.ways(),
            "start", decision.start(),
            "hit", decision.used(),
            "hit_way", found.way()));
  }

  /** Starts the fill of a line in the victim's way, and returns that way, a bit each. */
  private Signal fill(Inputs in, Asked asked, Signal victim, Signal start) {
    Signal victimBits =
        circuit.suggested(CacheBlocks.oneHot(circuit, victim, widths.ways()), "victim_one_hot");
    Signal victimWays = circuit.named(masked(victimBits, start), "victim_ways");
    circuit.connect(LINE_FILL, "start", start);
    circuit.connect(LINE_FILL, "missed_number", asked.number());
    circuit.connect(LINE_FILL, "victim", victim);
    circuit.connect(LINE_FILL, "request_ready", in.memory().get("request_ready"));
    return victimWays;
  }

  private void writeTags(
      First first, Asked asked, Signal moves, Signal askedIndex, Signal victimWays) {
    for (int way = 0; way < widths.ways(); way++) {
      String tagWay = FetchProbes.wayTags(way);
      if (!ahead) {
        circuit.connect(tagWay, "index", first.index());
        circuit.connect(tagWay, "read", moves);
      }
      circuit.connect(tagWay, "write", circuit.bit(victimWays, way));
      circuit.connect(tagWay, "write_index", askedIndex);
      circuit.connect(tagWay, "new_tag", widths.tag(circuit, asked.number()));
    }
  }

  private void setValid(
      First first, Flush flush, Found found, Signal askedIndex, Signal victimWays) {
    circuit.section("Valid bits: a fill clears the victim's and sets it at the end");
    Signal filling = first.fill().get("filling");
    Signal flushes =
        circuit.suggested(
            circuit.and(List.of(flush.looked(), circuit.not(flush.whole()))), "flushes_line");
    Signal flushed = circuit.suggested(masked(found.hits(), flushes), "flushed_ways");
    Signal cleared = circuit.or(List.of(victimWays, flushed));
    circuit.connect(
        VALID_LINES, "write", circuit.mux(filling, first.fill().get("valid_ways"), cleared));
    circuit.connect(
        VALID_LINES,
        "write_index",
        circuit.mux(filling, first.fill().get("write_index"), askedIndex));
    circuit.connect(VALID_LINES, "value", filling);
    circuit.connect(VALID_LINES, "clear", circuit.and(List.of(flush.looked(), flush.whole())));
  }

  /** Says where the stream goes: on, back to what was asked, or to the target of a redirect. */
  private Step step(Inputs in, Stream stream, Flush flush, Asked asked, Decision decision) {
    Signal advances =
        circuit.named(
            circuit.and(
                List.of(
                    stream.fetching(),
                    decision.moves(),
                    circuit.not(decision.again()),
                    circuit.not(flush.pending()))),
            "advances");
    Signal stays = circuit.not(flush.taken());
    Signal back =
        circuit.named(
            circuit.or(
                List.of(
                    decision.again(),
                    circuit.and(List.of(flush.taken(), circuit.not(decision.moves()))))),
            "goes_back");
    Signal onward = circuit.and(List.of(advances, stays));
    Signal one = circuit.constant(1, widths.number());
    Signal number = stream.number();
    Signal following =
        circuit.suggested(
            circuit.mux(onward, circuit.add(number, one, widths.number()), number), "following");
    Signal looksNext =
        circuit.suggested(circuit.mux(back, asked.number(), following), "following_or_again");
    Signal unlessRedirected =
        circuit.suggested(
            circuit.mux(flush.pending(), flush.resume(), looksNext), "resumed_unless_redirected");
    Signal resumed =
        circuit.named(circuit.mux(in.redirect(), in.target(), unlessRedirected), "resumed");
    circuit.drive(
        flush.resume(),
        circuit.comment(resumed, "where the stream goes on, during a flush behind it"));
    return new Step(decision.moves(), advances, stays, resumed);
  }

  private void driveStream(Inputs in, Stream stream, Flush flush, Signal resumed) {
    Signal line = in.flush().get("line");
    Signal flushNumber =
        widths.window() == 0
            ? line
            : circuit.concat(List.of(circuit.constant(0, widths.window()), line));
    Signal flushing = circuit.and(List.of(flush.pending(), circuit.not(flush.looked())));
    circuit.drive(
        stream.number(), circuit.mux(flush.taken(), flushNumber, resumed), circuit.not(flushing));
    circuit.drive(stream.fetching(), circuit.constant(1, 1), in.redirect());
  }

  private void driveAsked(Inputs in, Asked asked, Stream stream, First first, Step step) {
    Signal moves = step.moves();
    circuit.drive(
        asked.valid(),
        circuit.and(
            List.of(
                circuit.not(in.redirect()),
                step.stays(),
                circuit.or(List.of(step.advances(), circuit.not(moves))))));
    circuit.drive(asked.fresh(), moves);
    circuit.drive(asked.number(), stream.number(), moves);
    circuit.drive(asked.busy(), first.fill().get("filling"), moves);
    circuit.drive(asked.ways(), first.valid(), moves);
  }

  private void driveFlush(Inputs in, Flush flush, Signal filling) {
    circuit.drive(
        flush.pending(),
        circuit.or(
            List.of(
                flush.taken(),
                circuit.and(List.of(flush.pending(), circuit.not(flush.looked()))))));
    circuit.drive(
        flush.looked(),
        circuit.and(List.of(flush.pending(), circuit.not(flush.looked()), circuit.not(filling))));
    circuit.drive(flush.whole(), in.flush().get("all"), flush.taken());
  }

  private void outputs(
      Flush flush, Map<String, Signal> fill, Asked asked, Decision decision, Signal full) {
    circuit.output("window_valid", decision.offered(), "1: the window looked up is there");
    circuit.output("window_number", asked.number(), "its number");
    circuit.output(
        "flush_ready", circuit.not(flush.pending()), "1: a flush that is asked for is taken");
    circuit.output("request_valid", fill.get("request_valid"), "1: memory shall send a line");
    circuit.output("request_number", fill.get("request_number"), "the first window of it");
    circuit.output("access_hit", decision.used(), "1: an access found its window");
    circuit.output("access_miss", decision.start(), "1: an access did not, and starts a fill");
    circuit.output(
        "access_evicts", circuit.and(List.of(decision.start(), full)), "1: a line leaves");
  }

  private Found compare(Signal number, Signal valid, List<Signal> tags) {
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put("wanted", widths.tag(circuit, number));
    inputs.put("valid", valid);
    for (int way = 0; way < tags.size(); way++) {
      inputs.put("tag_" + way, tags.get(way));
    }
    Map<String, Signal> outputs =
        circuit.instance(FetchProbes.TAG_COMPARE, blocks.compare(), inputs);
    return new Found(
        outputs.get(FetchProbes.HIT), outputs.get(FetchProbes.WAY), outputs.get(FetchProbes.HITS));
  }

  /** Adds the data RAMs, the lanes beside them, and the way multiplexer with its outputs. */
  private void words(Signal number, Signal moves, Map<String, Signal> fill, Found found) {
    circuit.section("Data");
    int windowBits = 8 * unit.row().windowBytes();
    Circuit dataStore = blocks.data();
    Signal stored = fill.get("new_window");
    if (onFill) {
      stored = withAnswers(FetchProbes.FILL_ROW, stored);
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
      words.add(perWay ? withAnswers(FetchProbes.wayRow(way), word) : word);
    }
    Signal word = circuit.named(circuit.select(found.way(), words), FetchProbes.SELECTED);
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
    return circuit.suggested(circuit.concat(parts), name + "_with_window");
  }

  private Signal masked(Signal ways, Signal enable) {
    List<Signal> copies = new ArrayList<>();
    for (int i = 0; i < ways.width(); i++) {
      copies.add(enable);
    }
    return circuit.and(List.of(ways, circuit.concat(copies)));
  }
}

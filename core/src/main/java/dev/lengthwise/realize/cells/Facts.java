package dev.lengthwise.realize.cells;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Collectors;

/** What the head of an emitted file says of the description that a lane came from. */
public final class Facts {

  private Facts() {}

  public static Map<String, String> of(Predecoder lane, String style) {
    Map<String, String> facts = new LinkedHashMap<>();
    facts.put("description", lane.instructionSet().table().name());
    facts.put("style", style);
    facts.put("bytes seen", Integer.toString(1 + lane.lookahead()));
    facts.put("longest length", Integer.toString(lane.longest()));
    facts.put(
        "left out",
        lane.leftOut().isEmpty()
            ? "no rows"
            : lane.leftOut().stream().map(Object::toString).collect(Collectors.joining(", ")));
    facts.put("latency", "0 cycles");
    return facts;
  }

  public static Map<String, String> of(FetchUnit unit, String style) {
    Map<String, String> facts = new LinkedHashMap<>();
    facts.put("description", unit.row().lane().instructionSet().table().name());
    facts.put("style", style);
    facts.put("cache", unit.cache().geometry().toString());
    facts.put("tags", unit.cache().tags().label());
    facts.put("replacement", unit.cache().replacement().label());
    facts.put("pre-decode", unit.cache().predecode().label());
    facts.put("fill", unit.order().label() + ", beats of " + unit.beatBytes() + " bytes");
    facts.put("window", unit.row().windowBytes() + " bytes");
    facts.put("window end", unit.row().end().label());
    facts.put("marking", unit.row().marking().label());
    int cycles = 2 + (unit.waitsForNext() ? 1 : 0) + unit.row().latency();
    facts.put("latency", "at least " + cycles + " cycles, redirect to marks");
    return facts;
  }

  public static Map<String, String> of(LaneArray array, String style) {
    Map<String, String> facts = new LinkedHashMap<>();
    facts.put("description", array.lane().instructionSet().table().name());
    facts.put("style", style);
    facts.put("window", array.windowBytes() + " bytes");
    facts.put("window end", array.end().label());
    facts.put("marking", array.marking().label());
    facts.put(
        "pipeline cuts",
        array.cuts().isEmpty()
            ? "none"
            : array.cuts().stream().map(PipelineCut::label).collect(Collectors.joining(", ")));
    facts.put(
        "latency",
        array.latency() + (array.latency() == 1 ? " cycle" : " cycles") + ", window to marks");
    return facts;
  }
}

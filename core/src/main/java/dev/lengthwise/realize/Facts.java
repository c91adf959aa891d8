package dev.lengthwise.realize;

import dev.lengthwise.predecode.Predecoder;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.stream.Collectors;

/** What the head of an emitted file says of the description that a lane came from. */
final class Facts {

  private Facts() {}

  static Map<String, String> of(Predecoder lane, Style style) {
    Map<String, String> facts = new LinkedHashMap<>();
    facts.put("description", lane.instructionSet().table().name());
    facts.put("style", style.label());
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
}

package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.cells.Facts;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A lane that looks through prefixes: one core for each number of prefixes, of which the number
 * found chooses one. Each core sees fewer bytes than the one before, so none claims what the lane
 * cannot see.
 */
public final class FoldedLane {

  private final Predecoder lane;
  private final int unitBytes;
  private final CircuitBuilder circuit;
  private final LanePorts ports;

  public FoldedLane(Predecoder lane, String style) {
    this.lane = lane;
    this.unitBytes = lane.instructionSet().table().unit().bytes();
    this.circuit =
        Circuit.named(
            lane.name(),
            "Length of the instruction of "
                + lane.instructionSet().table().name()
                + " that starts at byte 0, up to "
                + lane.mostFolded()
                + " prefixes counted; 0 where the lane does not handle it.");
    Facts.of(lane, style).forEach(circuit::fact);
    this.ports = new LanePorts(circuit, lane, 1 + lane.lookahead());
  }

  /** Builds the lane around its cores; core k sees the bytes behind k prefixes. */
  public Circuit build(List<Circuit> cores) {
    circuit.section("Prefixes");
    List<Signal> found = new ArrayList<>();
    List<Map<String, Signal>> modes = new ArrayList<>(List.of(ports.modes()));
    for (int position = 0; position < cores.size() - 1; position++) {
      Signal unit = ports.unitAt(position * unitBytes);
      found.add(circuit.named(anyOf(foldedAt(position), unit), "prefix" + position));
      modes.add(apply(foldedAt(position), unit, modes.get(position)));
    }
    circuit.section("Lengths behind each number of prefixes");
    Signal length = behind(cores, cores.size() - 1, modes);
    for (int count = cores.size() - 2; count >= 0; count--) {
      length =
          circuit.suggested(
              circuit.mux(found.get(count), length, behind(cores, count, modes)),
              "length_from_" + count);
    }
    circuit.output(LanePorts.LENGTH, length, "bytes of the instruction; 0: not handled");
    return circuit.build();
  }

  private List<PrefixRules.Prefix> foldedAt(int position) {
    return lane.instructionSet().prefixes().prefixes().values().stream()
        .filter(prefix -> position < lane.prefixes().get(prefix.code()).most())
        .toList();
  }

  private Signal anyOf(List<PrefixRules.Prefix> prefixes, Signal unit) {
    return prefixes.isEmpty()
        ? circuit.constant(0, 1)
        : circuit.or(prefixes.stream().map(p -> circuit.equal(unit, p.code())).toList());
  }

  private Map<String, Signal> apply(
      List<PrefixRules.Prefix> prefixes, Signal unit, Map<String, Signal> before) {
    Map<String, Signal> after = new LinkedHashMap<>();
    before.forEach(
        (mode, value) -> {
          Signal result = value;
          for (PrefixRules.Effect effect : PrefixRules.Effect.values()) {
            List<PrefixRules.Prefix> having =
                prefixes.stream().filter(p -> p.effects().get(mode) == effect).toList();
            if (!having.isEmpty()) {
              Signal changed =
                  switch (effect) {
                    case FLIP -> circuit.not(ports.modes().get(mode));
                    case SET -> circuit.constant(1, 1);
                    case CLEAR -> circuit.constant(0, 1);
                  };
              result =
                  circuit.suggested(
                      circuit.mux(anyOf(having, unit), changed, result), mode + "_behind_prefix");
            }
          }
          after.put(mode, result);
        });
    return after;
  }

  private Signal behind(List<Circuit> cores, int count, List<Map<String, Signal>> modes) {
    int skipped = 8 * count * unitBytes;
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put(
        LanePorts.CODE, circuit.slice(ports.code(), skipped, ports.code().width() - skipped));
    modes.get(count).forEach((mode, signal) -> inputs.put(Port.keyOfUser(mode), signal));
    Signal length =
        circuit.instance("behind_" + count, cores.get(count), inputs).get(LanePorts.LENGTH);
    if (count == 0) {
      return length;
    }
    int bits = length.width();
    Signal whole =
        circuit.mux(
            circuit.reduce(Node.Operation.OR, length),
            circuit.add(length, circuit.constant((long) count * unitBytes, bits), bits),
            circuit.constant(0, bits));
    return circuit.suggested(whole, "length_with_" + count);
  }
}

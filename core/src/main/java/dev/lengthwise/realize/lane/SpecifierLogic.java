package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.row.LaneSpecifier;
import dev.lengthwise.realize.cells.RowFields;
import dev.lengthwise.table.BitPattern;
import dev.lengthwise.table.OperandSpecifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

/** An operand specifier as logic: each case compares its patterns, and the added bytes are ORed. */
final class SpecifierLogic {

  private final LaneSpecifier specifier;
  private final List<String> modeNames;

  SpecifierLogic(LaneSpecifier specifier) {
    this.specifier = specifier;
    TreeSet<String> names = new TreeSet<>();
    specifier.specifier().cases().forEach(c -> names.addAll(c.when().required().keySet()));
    this.modeNames = List.copyOf(names);
  }

  /** Returns the modes that the logic reads, in the order of their names. */
  List<String> modeNames() {
    return modeNames;
  }

  /** Returns the width of the added bytes. */
  int addedBits() {
    return Math.max(
        1,
        RowFields.bits(
            specifier.specifier().cases().stream()
                .mapToInt(OperandSpecifier.Case::bytes)
                .max()
                .orElse(0)));
  }

  /** Tells whether the bytes read always decide. */
  boolean isAlwaysDecided() {
    return specifier.bytesRead() == 2
        || specifier.bytesRead() == 1
            && specifier.specifier().cases().stream().allMatch(c -> c.nextPattern().isEmpty());
  }

  /** Builds the block; at least one byte is read. */
  Circuit circuit(String name) {
    CircuitBuilder circuit =
        Circuit.named(
            name,
            "Bytes that operand specifier "
                + specifier.specifier().name()
                + " adds after its own byte.");
    Signal first = circuit.input("specifier_byte", 8, "the operand specifier");
    boolean usesNext =
        specifier.bytesRead() == 2
            && specifier.specifier().cases().stream().anyMatch(c -> c.nextPattern().isPresent());
    Signal next = usesNext ? circuit.input("index_byte", 8, "the byte after it") : null;
    Map<String, Signal> modes = new LinkedHashMap<>();
    modeNames.forEach(mode -> modes.put(mode, circuit.userInput(mode, 1, "mode " + mode)));
    Map<Integer, List<Signal>> matches = new LinkedHashMap<>();
    Map<List<Object>, Signal> undecided = new LinkedHashMap<>();
    for (OperandSpecifier.Case c : specifier.specifier().cases()) {
      if (c.nextPattern().isPresent() && !usesNext) {
        undecided.computeIfAbsent(
            List.of(c.pattern(), c.when()), k -> match(circuit, c, first, null, modes));
      } else {
        matches
            .computeIfAbsent(c.bytes(), bytes -> new ArrayList<>())
            .add(circuit.suggested(match(circuit, c, first, next, modes), "adds_" + c.bytes()));
      }
    }
    circuit.output("added", added(circuit, matches), "bytes added");
    if (!isAlwaysDecided()) {
      circuit.output(
          "decided",
          undecided.isEmpty()
              ? circuit.constant(1, 1)
              : circuit.not(
                  circuit.suggested(
                      circuit.or(List.copyOf(undecided.values())), "index_byte_decides")),
          "0 where only the index byte could tell");
    }
    return circuit.build();
  }

  private Signal added(CircuitBuilder circuit, Map<Integer, List<Signal>> matches) {
    List<Signal> bits = new ArrayList<>();
    for (int bit = 0; bit < addedBits(); bit++) {
      List<Signal> ones = new ArrayList<>();
      for (Map.Entry<Integer, List<Signal>> entry : matches.entrySet()) {
        if ((entry.getKey() >> bit & 1) != 0) {
          ones.addAll(entry.getValue());
        }
      }
      bits.add(
          ones.isEmpty()
              ? circuit.constant(0, 1)
              : circuit.suggested(circuit.or(ones), "added_bit_" + bit));
    }
    return circuit.concat(bits);
  }

  private static Signal match(
      CircuitBuilder circuit,
      OperandSpecifier.Case c,
      Signal first,
      Signal next,
      Map<String, Signal> modes) {
    List<Signal> terms = new ArrayList<>();
    fixedBits(circuit, c.pattern(), first, terms);
    if (next != null && c.nextPattern().isPresent()) {
      fixedBits(circuit, c.nextPattern().get(), next, terms);
    }
    c.when()
        .required()
        .forEach(
            (mode, value) -> terms.add(value ? modes.get(mode) : circuit.not(modes.get(mode))));
    return terms.isEmpty() ? circuit.constant(1, 1) : circuit.and(terms);
  }

  /** Adds one comparison for each run of fixed bits. */
  private static void fixedBits(
      CircuitBuilder circuit, BitPattern pattern, Signal source, List<Signal> terms) {
    int low = 0;
    while (low < 8) {
      if ((pattern.mask() >> low & 1) == 0) {
        low++;
        continue;
      }
      int high = low;
      while (high < 7 && (pattern.mask() >> high + 1 & 1) == 1) {
        high++;
      }
      int width = high - low + 1;
      terms.add(
          circuit.equal(
              circuit.slice(source, low, width), pattern.value() >> low & (1 << width) - 1));
      low = high + 1;
    }
  }
}

package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.cells.Facts;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.realize.cells.RowFields;
import dev.lengthwise.realize.cells.SpecifierUse;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/**
 * A lane behind a fixed number of prefixes, map by map: a block for each opcode map, operand
 * specifiers as logic, multiplexers that choose between maps, and an adder.
 */
public final class MapCore {

  private final Predecoder lane;
  private final WordLogic words;
  private final LaneTable table;
  private final List<SpecifierUse> uses;
  private final String prefix;
  private final CircuitBuilder circuit;
  private final Lookups lookups;

  /** By place in the table: a map stands once, however many escapes lead to it. */
  private final Map<Integer, Answer> answers = new HashMap<>();

  /** The answer of a map: the fields of {@link RowFields} that are left after all choices. */
  private record Answer(Signal bytes, Signal specifier) {}

  /** A lane that looks up its bytes by blocks inside it. */
  public MapCore(Predecoder lane, int prefixes, String name, WordLogic words) {
    this(
        lane,
        prefixes,
        name,
        words,
        circuit ->
            Lookups.inside(
                circuit, new LanePorts(circuit, lane, LaneTable.of(lane, prefixes).bytesSeen())));
  }

  public MapCore(
      Predecoder lane,
      int prefixes,
      String name,
      WordLogic words,
      Function<CircuitBuilder, Lookups> lookups) {
    this.words = words;
    this.lane = lane;
    this.table = LaneTable.of(lane, prefixes);
    this.uses = SpecifierUse.in(table);
    this.prefix = name;
    this.circuit = Circuit.named(name, summary(lane, prefixes));
    Facts.of(lane, words.style()).forEach(circuit::fact);
    this.lookups = lookups.apply(circuit);
  }

  private static String summary(Predecoder lane, int prefixes) {
    return "Length of the instruction of "
        + lane.instructionSet().table().name()
        + " that starts at byte 0"
        + (prefixes == 0 ? "" : ", the " + prefixes + " prefixes before it not counted")
        + "; 0 where the lane does not handle it.";
  }

  public Circuit build() {
    circuit.section("Opcode maps");
    Answer answer = answerOf(0);
    Signal length = answer.bytes();
    if (!uses.isEmpty()) {
      length = withOperand(answer);
    }
    int bits = lane.lengthBits();

    Signal shown =
        length.width() > bits ? circuit.slice(length, 0, bits) : circuit.extend(length, bits);
    circuit.output(LanePorts.LENGTH, shown, "bytes of the instruction; 0: not handled");
    return circuit.build();
  }

  private Answer answerOf(int index) {
    Answer known = answers.get(index);
    if (known == null) {
      known = newAnswer(index);
      answers.put(index, known);
    }
    return known;
  }

  private Answer newAnswer(int index) {
    LaneTable.LaneMap map = table.maps().get(index);
    RowFields fields = new RowFields(table, map, uses);
    RowTable rows = new RowTable(table, map.rows(), fields);
    Map<String, Signal> row =
        place(
            rows,
            "map_" + map.name(),
            "Opcode map " + map.name() + ": what each opcode says.",
            map.offset());
    if (!fields.splits().isEmpty()) {
      row = bySplit(map, fields, row);
    }
    Signal specifier = row.get("specifier");
    if (fields.escapes().isEmpty()) {
      return new Answer(row.get("bytes"), specifier);
    }
    List<Signal> bytes = new ArrayList<>(List.of(row.get("bytes")));
    List<Signal> specifiers = new ArrayList<>();
    specifiers.add(specifier);
    for (var escape : fields.escapes()) {
      Answer further = answerOf(escape.map());
      bytes.add(further.bytes());
      specifiers.add(further.specifier());
    }
    Signal next = row.get("next_map");
    return new Answer(
        circuit.named(circuit.select(next, bytes), map.name() + "_or_further_bytes"),
        specifier == null
            ? null
            : circuit.named(
                circuit.select(next, specifiers), map.name() + "_or_further_specifier"));
  }

  /** Chooses between the row of the opcode and the rows of the byte after it. */
  private Map<String, Signal> bySplit(
      LaneTable.LaneMap map, RowFields fields, Map<String, Signal> row) {
    int position = map.offset() + lane.instructionSet().table().unit().bytes();
    List<Map<String, Signal>> choices = new ArrayList<>(List.of(row));
    for (int i = 0; i < fields.splits().size(); i++) {
      RowTable rows = new RowTable(table, fields.splits().get(i).rows(), fields);
      choices.add(
          place(
              rows,
              "map_" + map.name() + "_next" + (i + 1),
              "Opcode map " + map.name() + ": what the byte after some opcodes says.",
              position));
    }
    Map<String, Signal> chosen = new LinkedHashMap<>();
    for (String field : List.of("bytes", "specifier", "next_map")) {
      if (row.containsKey(field)) {
        Signal chosenField =
            circuit.select(
                row.get("split"), choices.stream().map(choice -> choice.get(field)).toList());
        chosen.put(field, circuit.named(chosenField, map.name() + "_" + field));
      }
    }
    return chosen;
  }

  private Map<String, Signal> place(RowTable rows, String name, String summary, int position) {
    return lookups.look(rows.circuit(prefix + "_" + name, summary, words), name, position);
  }

  private Signal withOperand(Answer answer) {
    circuit.section("Operand specifiers");
    int addedBits =
        uses.stream()
            .mapToInt(use -> new SpecifierLogic(use.specifier()).addedBits())
            .max()
            .orElse(1);
    List<Signal> added = new ArrayList<>(List.of(circuit.constant(0, addedBits)));
    List<Signal> decided = new ArrayList<>(List.of(circuit.constant(1, 1)));
    Map<Object, Circuit> blocks = new LinkedHashMap<>();
    for (SpecifierUse use : uses) {
      Map<String, Signal> outputs = placeSpecifier(use, blocks);
      added.add(circuit.extend(outputs.get("added"), addedBits));
      decided.add(outputs.getOrDefault("decided", circuit.constant(1, 1)));
    }
    circuit.section("Sum");
    Signal chosen = circuit.named(circuit.select(answer.specifier(), added), "added");
    int most = mostSum();
    Signal sum =
        circuit.named(
            circuit.add(
                answer.bytes(),
                chosen,
                Math.max(RowFields.bits(most), Math.max(answer.bytes().width(), addedBits))),
            "bytes_and_operand");
    List<Signal> handled = new ArrayList<>();
    handled.add(circuit.reduce(Node.Operation.OR, answer.bytes()));
    if (decided.stream().distinct().count() > 1 && uses.stream().anyMatch(this::canBeUndecided)) {
      handled.add(
          circuit.suggested(circuit.select(answer.specifier(), decided), "operand_decided"));
    }
    if (most > table.mostBytes()) {
      handled.add(
          circuit.comment(
              circuit.suggested(
                  circuit.lessThan(sum, circuit.constant(table.mostBytes() + 1L, sum.width())),
                  "is_short_enough"),
              "longer instructions are left to the slow path"));
    }
    return circuit.mux(
        circuit.named(circuit.and(handled), "handled"), sum, circuit.constant(0, sum.width()));
  }

  private boolean canBeUndecided(SpecifierUse use) {
    return !new SpecifierLogic(use.specifier()).isAlwaysDecided();
  }

  /** Returns the largest sum that the adder can meet. */
  private int mostSum() {
    int most = 0;
    for (SpecifierUse use : uses) {
      for (var c : use.specifier().specifier().cases()) {
        most = Math.max(most, c.bytes());
      }
    }
    return most + (1 << new RowFields(table, table.maps().get(0), uses).bytesBits()) - 1;
  }

  private Map<String, Signal> placeSpecifier(SpecifierUse use, Map<Object, Circuit> blocks) {
    String name = use.specifier().specifier().name();
    SpecifierLogic logic = new SpecifierLogic(use.specifier());
    Circuit block =
        blocks.computeIfAbsent(
            use.specifier(),
            key ->
                logic.circuit(prefix + "_" + name + (blocks.isEmpty() ? "" : "_" + blocks.size())));
    return lookups.look(block, name, use.position());
  }
}

package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.cells.RowFields;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/**
 * The rows of a map, or of the byte after an opcode, as words of {@link RowFields}: one for each
 * code and each value of the modes that change the word. A {@link WordLogic} says what computes
 * them.
 */
final class RowTable {

  private final LaneTable table;
  private final List<LaneRow> rows;
  private final RowFields fields;
  private final List<Integer> modeBits;
  private final List<String> modeNames;

  RowTable(LaneTable table, List<LaneRow> rows, RowFields fields) {
    this.table = table;
    this.rows = rows;
    this.fields = fields;
    List<String> names = table.lane().instructionSet().table().modes();
    this.modeBits = IntStream.range(0, names.size()).filter(this::matters).boxed().toList();
    this.modeNames = modeBits.stream().map(names::get).toList();
  }

  private boolean matters(int bit) {
    return rows.stream()
        .anyMatch(
            row ->
                row instanceof LaneRow.Length length
                    && IntStream.range(0, length.bytes().size())
                        .anyMatch(
                            modes ->
                                !length
                                    .bytes()
                                    .get(modes)
                                    .equals(length.bytes().get(modes ^ 1 << bit))));
  }

  /** Returns the modes that change a word, in the order of the bits. */
  List<String> modeNames() {
    return modeNames;
  }

  /** Returns the rows by code. */
  List<LaneRow> rows() {
    return rows;
  }

  /** Returns the width of a code. */
  int codeBits() {
    return Integer.numberOfTrailingZeros(rows.size());
  }

  /** Builds the block: inputs {@code key} and the modes, outputs the fields of the row. */
  Circuit circuit(String name, String summary, WordLogic logic) {
    CircuitBuilder circuit = Circuit.named(name, summary);
    Signal key = circuit.input("key", codeBits(), "the code that is looked up");
    List<Signal> modes = new ArrayList<>();
    modeNames.forEach(mode -> modes.add(circuit.userInput(mode, 1, "mode " + mode)));
    output(circuit, circuit.named(logic.word(circuit, this, key, modes), "row"));
    return circuit.build();
  }

  /** Returns the width of a word. */
  int wordBits() {
    return rows.stream().anyMatch(LaneRow.ByNextByte.class::isInstance)
        ? fields.leafBits() + fields.splitBits()
        : fields.leafBits();
  }

  /** Joins the key and the modes, the key lowest. */
  static Signal address(CircuitBuilder circuit, Signal low, List<Signal> modes) {
    List<Signal> parts = new ArrayList<>(List.of(low));
    parts.addAll(modes);
    return circuit.concat(parts);
  }

  /**
   * Returns the word of a row under the values of the modes that change words, the first in bit 0.
   */
  long word(LaneRow row, int values) {
    return fields.word(row, modeWord(values), table.mostBytes());
  }

  /** Returns a one for each bit of the word that matters. */
  long care(LaneRow row, int values) {
    return fields.care(row, modeWord(values), table.mostBytes());
  }

  private int modeWord(int values) {
    int modes = 0;
    for (int i = 0; i < modeBits.size(); i++) {
      modes |= (values >> i & 1) << modeBits.get(i);
    }
    return modes;
  }

  private void output(CircuitBuilder circuit, Signal word) {
    int low = fields.bytesBits();
    circuit.output("bytes", circuit.slice(word, 0, low), "bytes without operand; 0: not handled");
    if (fields.specifierBits() > 0) {
      circuit.output(
          "specifier",
          circuit.slice(word, low, fields.specifierBits()),
          "which operand specifier adds bytes; 0: none");
      low += fields.specifierBits();
    }
    if (fields.escapeBits() > 0) {
      circuit.output(
          "next_map",
          circuit.slice(word, low, fields.escapeBits()),
          "which further map decides; 0: none");
      low += fields.escapeBits();
    }
    if (word.width() > low) {
      circuit.output(
          "split",
          circuit.slice(word, low, word.width() - low),
          "which table of the byte after the opcode decides; 0: none");
    }
  }
}

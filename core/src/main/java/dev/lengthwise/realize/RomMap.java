package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneRow;
import dev.lengthwise.predecode.LaneTable;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/**
 * A ROM over the code unit, or over the byte after it: one word of {@link RowFields} for each code
 * and each value of the modes that change the word.
 *
 * <p>Where the code and the modes together exceed the largest table, the ROM yields the number of
 * the row instead and a second, small table the word.
 */
final class RomMap {

  private final LaneTable table;
  private final List<LaneRow> rows;
  private final RowFields fields;
  private final List<Integer> modeBits;
  private final List<String> modeNames;

  RomMap(LaneTable table, List<LaneRow> rows, RowFields fields) {
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

  /** Returns the modes that the ROM reads, in the order of the bits. */
  List<String> modeNames() {
    return modeNames;
  }

  /** Builds the block. */
  Circuit circuit(String name, String summary) {
    CircuitBuilder circuit = Circuit.named(name, summary);
    int codeBits = Integer.numberOfTrailingZeros(rows.size());
    Signal key = circuit.input("key", codeBits, "the code that is looked up");
    List<Signal> modes = new ArrayList<>();
    modeNames.forEach(mode -> modes.add(circuit.input(mode, 1, "mode " + mode)));
    Signal word =
        codeBits + modes.size() <= Contents.MOST_ADDRESS_BITS
            ? wordOfCode(circuit, key, modes)
            : wordOfRow(circuit, key, modes);
    output(circuit, word);
    return circuit.build();
  }

  private int wordBits() {
    return rows.stream().anyMatch(LaneRow.ByNextByte.class::isInstance)
        ? fields.leafBits() + fields.splitBits()
        : fields.leafBits();
  }

  private Signal wordOfCode(CircuitBuilder circuit, Signal key, List<Signal> modes) {
    long[] words = new long[rows.size() << modeBits.size()];
    for (int address = 0; address < words.length; address++) {
      words[address] = word(rows.get(address % rows.size()), address / rows.size());
    }
    return circuit.named(
        circuit.lookup(address(circuit, key, modes), Contents.of(wordBits(), words)), "row");
  }

  private Signal wordOfRow(CircuitBuilder circuit, Signal key, List<Signal> modes) {
    List<LaneRow> distinct = rows.stream().distinct().toList();
    Map<LaneRow, Integer> numbers = new LinkedHashMap<>();
    distinct.forEach(row -> numbers.put(row, numbers.size()));
    int numberBits = Math.max(1, RowFields.bits(distinct.size() - 1));
    Signal number =
        circuit.named(
            circuit.lookup(
                key, Contents.of(numberBits, rows.stream().mapToLong(numbers::get).toArray())),
            "row_number");
    long[] words = new long[1 << numberBits + modeBits.size()];
    for (int address = 0; address < words.length; address++) {
      int row = address & (1 << numberBits) - 1;
      words[address] = row < distinct.size() ? word(distinct.get(row), address >> numberBits) : 0;
    }
    return circuit.named(
        circuit.lookup(address(circuit, number, modes), Contents.of(wordBits(), words)), "row");
  }

  private static Signal address(CircuitBuilder circuit, Signal low, List<Signal> modes) {
    List<Signal> parts = new ArrayList<>(List.of(low));
    parts.addAll(modes);
    return circuit.concat(parts);
  }

  /** Returns the word under the values of the modes that matter, the first in bit 0. */
  private long word(LaneRow row, int values) {
    int modes = 0;
    for (int i = 0; i < modeBits.size(); i++) {
      modes |= (values >> i & 1) << modeBits.get(i);
    }
    return fields.word(row, modes, table.mostBytes());
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

package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.realize.cells.RowFields;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * A whole ROM. Where the code and the modes together exceed the largest table, the ROM yields the
 * number of the row instead and a second, small table the word.
 */
public final class RomWords implements WordLogic {

  @Override
  public String style() {
    return "rom";
  }

  @Override
  public Signal word(CircuitBuilder circuit, RowTable table, Signal key, List<Signal> modes) {
    return table.codeBits() + modes.size() <= Contents.MOST_ADDRESS_BITS
        ? ofCode(circuit, table, key, modes)
        : ofRow(circuit, table, key, modes);
  }

  private static Signal ofCode(
      CircuitBuilder circuit, RowTable table, Signal key, List<Signal> modes) {
    int codes = table.rows().size();
    long[] words = new long[codes << modes.size()];
    for (int address = 0; address < words.length; address++) {
      words[address] = table.word(table.rows().get(address % codes), address / codes);
    }
    return circuit.lookup(
        RowTable.address(circuit, key, modes), Contents.of(table.wordBits(), words));
  }

  private static Signal ofRow(
      CircuitBuilder circuit, RowTable table, Signal key, List<Signal> modes) {
    List<LaneRow> distinct = table.rows().stream().distinct().toList();
    Map<LaneRow, Integer> numbers = new LinkedHashMap<>();
    distinct.forEach(row -> numbers.put(row, numbers.size()));
    int numberBits = Math.max(1, RowFields.bits(distinct.size() - 1));
    Signal number =
        circuit.named(
            circuit.lookup(
                key,
                Contents.of(numberBits, table.rows().stream().mapToLong(numbers::get).toArray())),
            "row_number");
    long[] words = new long[1 << numberBits + modes.size()];
    for (int address = 0; address < words.length; address++) {
      int row = address & (1 << numberBits) - 1;
      words[address] =
          row < distinct.size() ? table.word(distinct.get(row), address >> numberBits) : 0;
    }
    return circuit.lookup(
        RowTable.address(circuit, number, modes), Contents.of(table.wordBits(), words));
  }
}

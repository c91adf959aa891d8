package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.logic.bank.BankFunction;
import dev.lengthwise.logic.bank.BankGroup;
import dev.lengthwise.logic.bank.BankOutput;
import dev.lengthwise.logic.bank.BankPlan;
import dev.lengthwise.logic.bank.BankSource;
import dev.lengthwise.logic.bank.BankSplitter;
import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Banks: some bits select a bank, each bank is a small function, and a multiplexer takes the
 * selected one. Rows that may be anything are don't-cares. Tables too wide for banks stay whole.
 */
public final class BankedWords implements WordLogic {

  private static final int MOST_SELECT_BITS = 4;

  private final int lutInputs;

  public BankedWords(int lutInputs) {
    this.lutInputs = lutInputs;
  }

  @Override
  public String style() {
    return "banked";
  }

  @Override
  public Signal word(CircuitBuilder circuit, RowTable table, Signal key, List<Signal> modes) {
    int inputs = table.codeBits() + modes.size();
    if (inputs > BankSplitter.MOST_INPUTS) {
      return new RomWords().word(circuit, table, key, modes);
    }
    BankPlan plan = BankSplitter.forLuts(lutInputs).best(tables(table, inputs), MOST_SELECT_BITS);
    List<Signal> bits = new ArrayList<>();
    for (int i = 0; i < table.codeBits(); i++) {
      bits.add(circuit.bit(key, i));
    }
    bits.addAll(modes);
    circuit.section("Banks, selected by " + names(plan.select(), table));
    Signal bank = circuit.named(circuit.concat(gather(bits, plan.select())), "bank");
    Inputs shared = new Inputs(bank, bits, new HashMap<>());
    List<Signal> outputs = new ArrayList<>();
    for (int bit = 0; bit < plan.outputs().size(); bit++) {
      outputs.add(output(circuit, plan.outputs().get(bit), shared, bit));
    }
    return circuit.concat(outputs);
  }

  private static List<TruthTable> tables(RowTable table, int inputs) {
    int codes = table.rows().size();
    List<TruthTable> tables = new ArrayList<>();
    for (int i = 0; i < table.wordBits(); i++) {
      int bit = i;
      tables.add(
          TruthTable.of(
              inputs,
              p -> (table.word(table.rows().get(p % codes), p / codes) >> bit & 1) != 0,
              p -> (table.care(table.rows().get(p % codes), p / codes) >> bit & 1) != 0));
    }
    return tables;
  }

  private static String names(int select, RowTable table) {
    List<String> names = new ArrayList<>();
    for (int i = 0; i < Integer.SIZE; i++) {
      if ((select >> i & 1) != 0) {
        names.add(i < table.codeBits() ? "key " + i : table.modeNames().get(i - table.codeBits()));
      }
    }
    return String.join(", ", names);
  }

  private static List<Signal> gather(List<Signal> bits, int which) {
    List<Signal> gathered = new ArrayList<>();
    for (int i = 0; i < bits.size(); i++) {
      if ((which >> i & 1) != 0) {
        gathered.add(bits.get(i));
      }
    }
    return gathered;
  }

  /** What outputs are made from: the bank's number, the inputs, and their joins made so far. */
  private record Inputs(Signal bank, List<Signal> bits, Map<Integer, Signal> addresses) {}

  private Signal output(CircuitBuilder circuit, BankOutput output, Inputs inputs, int number) {
    List<Signal> bits = inputs.bits;
    List<Signal> groups = new ArrayList<>();
    for (BankGroup group : output.groups()) {
      Signal signal = function(circuit, group.function(), bits, inputs.addresses);
      groups.add(circuit.named(signal, "row_" + number + "_group" + (groups.size() + 1)));
    }
    List<Signal> choices = new ArrayList<>();
    for (BankSource source : output.sources()) {
      choices.add(
          switch (source.kind()) {
            case FREE, ZERO -> circuit.constant(0, 1);
            case ONE -> circuit.constant(1, 1);
            case INPUT -> bits.get(source.index());
            case INVERTED_INPUT -> circuit.not(bits.get(source.index()));
            case GROUP -> groups.get(source.index());
          });
    }
    return choices.stream().distinct().count() == 1
        ? choices.get(0)
        : circuit.named(circuit.select(inputs.bank, choices), "row_" + number);
  }

  /**
   * The same bits are joined once, however many functions they are the address of. A function is no
   * LUT of its own, as a LUT may well hold it with the choice behind it.
   */
  private Signal function(
      CircuitBuilder circuit,
      BankFunction function,
      List<Signal> bits,
      Map<Integer, Signal> addresses) {
    List<Signal> support = gather(bits, function.support());
    TruthTable table = function.table();
    long[] words = new long[1 << support.size()];
    for (int point = 0; point < words.length; point++) {
      words[point] = table.isOn(point) ? 1 : 0;
    }
    Contents contents = Contents.of(1, words);
    if (support.isEmpty()) {
      return circuit.constant(words[0], 1);
    }
    return circuit.lookup(
        addresses.computeIfAbsent(function.support(), which -> circuit.concat(support)), contents);
  }
}

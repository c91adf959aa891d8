package dev.lengthwise.logic.bank;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.support.SupportReducer;
import java.util.List;
import java.util.Objects;

/**
 * A function of few inputs of a wider circuit.
 *
 * @param support the inputs it needs, one bit an input of the circuit
 * @param table the function; the lowest input of the support is the table's input 0
 */
public record BankFunction(int support, TruthTable table) {

  /**
   * Checks that the table fits the support.
   *
   * @param support the inputs it needs, one bit an input of the circuit
   * @param table the function; the lowest input of the support is the table's input 0
   * @throws IllegalArgumentException if the table has another number of inputs
   */
  public BankFunction {
    Objects.requireNonNull(table, "table");
    if (table.inputs() != Integer.bitCount(support)) {
      throw new IllegalArgumentException(
          "bank function: the table must have "
              + Integer.bitCount(support)
              + " inputs, found "
              + table.inputs());
    }
  }

  /** Restates a table, whose inputs are those at {@code positions}, over the fewest of them. */
  static BankFunction smallest(TruthTable table, int positions) {
    int kept = SupportReducer.smallest(List.of(table));
    return new BankFunction(
        SupportReducer.scatter(kept, positions),
        SupportReducer.restrict(List.of(table), kept).get(0));
  }

  /**
   * Returns the value at a point of the circuit; don't-cares are 0.
   *
   * @param point a point over all inputs of the circuit
   * @return the value
   */
  public boolean evaluate(int point) {
    return table.isOn(SupportReducer.gather(point, support));
  }
}

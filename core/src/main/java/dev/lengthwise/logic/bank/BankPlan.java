package dev.lengthwise.logic.bank;

import java.util.List;

/**
 * A table split into banks by some of its inputs.
 *
 * @param inputs the number of inputs of the circuit
 * @param select the inputs that select a bank, one bit an input
 * @param banks the banks, by ascending code
 * @param outputs how each output is put together from groups of banks, output 0 first
 * @param estimatedLuts a guess of the LUTs, for comparing plans: exact where every function and
 *     multiplexer fits one LUT, else a lower bound of the parts that do not; LUTs shared between
 *     outputs are not considered
 */
public record BankPlan(
    int inputs, int select, List<Bank> banks, List<BankOutput> outputs, int estimatedLuts) {

  /**
   * Copies the lists.
   *
   * @param inputs the number of inputs of the circuit
   * @param select the inputs that select a bank, one bit an input
   * @param banks the banks, by ascending code
   * @param outputs how each output is put together from groups of banks, output 0 first
   * @param estimatedLuts a guess of the LUTs, for comparing plans: exact where every function and
   *     multiplexer fits one LUT, else a lower bound of the parts that do not; LUTs shared between
   *     outputs are not considered
   */
  public BankPlan {
    banks = List.copyOf(banks);
    outputs = List.copyOf(outputs);
  }

  /**
   * Returns the outputs at a point as groups and multiplexers give them.
   *
   * @param point in [0, 2^inputs)
   * @return one bit an output
   */
  public long evaluate(int point) {
    long result = 0;
    for (int o = 0; o < outputs.size(); o++) {
      result |= outputs.get(o).evaluate(point, select) ? 1L << o : 0;
    }
    return result;
  }

  /**
   * Returns the product terms of all banks together.
   *
   * @return at least 0
   */
  public int terms() {
    return banks.stream().mapToInt(bank -> bank.cover().terms()).sum();
  }
}

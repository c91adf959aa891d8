package dev.lengthwise.logic.bank;

import dev.lengthwise.logic.twolevel.TwoLevelResult;
import java.util.List;
import java.util.Objects;

/**
 * The part of a table that one value of the selecting inputs picks.
 *
 * @param code the value of the selecting inputs, the lowest of them being bit 0
 * @param inputs the fewest inputs that all outputs of the bank need together, one bit an input
 * @param cover all outputs of the bank as sums of products over {@code inputs}
 * @param functions each output alone, over the fewest inputs that it needs; output 0 first
 */
public record Bank(int code, int inputs, TwoLevelResult cover, List<BankFunction> functions) {

  /**
   * Copies the functions.
   *
   * @param code the value of the selecting inputs, the lowest of them being bit 0
   * @param inputs the fewest inputs that all outputs of the bank need together, one bit an input
   * @param cover all outputs of the bank as sums of products over {@code inputs}
   * @param functions each output alone, over the fewest inputs that it needs; output 0 first
   */
  public Bank {
    Objects.requireNonNull(cover, "cover");
    functions = List.copyOf(functions);
  }
}

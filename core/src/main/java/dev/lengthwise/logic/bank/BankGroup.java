package dev.lengthwise.logic.bank;

import java.util.List;
import java.util.Objects;

/**
 * A function that serves several banks of one output, selecting inputs among its own inputs where
 * it must tell the banks apart.
 *
 * @param codes the banks, ascending
 * @param function the function; outside the banks everything is a don't-care
 */
public record BankGroup(List<Integer> codes, BankFunction function) {

  /**
   * Copies the codes.
   *
   * @param codes the banks, ascending
   * @param function the function; outside the banks everything is a don't-care
   */
  public BankGroup {
    codes = List.copyOf(codes);
    Objects.requireNonNull(function, "function");
  }
}

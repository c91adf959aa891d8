package dev.lengthwise.logic.map;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.List;

/**
 * The best network that was found in a time.
 *
 * @param network the network
 * @param account what was tried, in words, in the order in which it was
 * @param interrupted whether the time was cut short
 */
public record TimedMapping(LutNetwork network, List<String> account, boolean interrupted) {

  /**
   * Copies the list.
   *
   * @param network see TimedMapping
   * @param account see TimedMapping
   * @param interrupted see TimedMapping
   */
  public TimedMapping {
    account = List.copyOf(account);
  }
}

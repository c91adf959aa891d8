package dev.lengthwise.logic.support;

import java.util.Locale;

/**
 * Two points that differ in one input only and must give different outputs: the reason why that
 * input cannot be dropped.
 *
 * @param low the point at which the input is 0
 * @param high the point at which the input is 1
 * @param outputs the outputs in which the two differ, one bit an output
 */
public record SupportConflict(int low, int high, long outputs) {

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "0x%x and 0x%x", low, high);
  }
}

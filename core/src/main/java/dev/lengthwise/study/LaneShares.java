package dev.lengthwise.study;

/**
 * What a lane says of executed instructions.
 *
 * @param instructions the instructions, at least 1
 * @param handled those that the lane says a length of
 * @param exact those that it says the exact length of, prefixes as items of their own or counted in
 */
public record LaneShares(long instructions, long handled, long exact) {

  /**
   * Returns the share that the lane says a length of.
   *
   * @return in [0, 1]
   */
  public double handledShare() {
    return handled / (double) instructions;
  }

  /**
   * Returns the share that the lane says the exact length of.
   *
   * @return in [0, 1]
   */
  public double exactShare() {
    return exact / (double) instructions;
  }
}

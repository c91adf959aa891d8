package dev.lengthwise.study.fetch;

/**
 * What became of a decoder slot: a decoder of n items has n slots in each cycle, and each has one
 * use. {@link FetchModel} says which.
 */
public enum SlotUse {
  /** An instruction's last item, or an instruction that the slow path decides, was decoded. */
  INSTRUCTION("instruction"),
  /** A prefix was decoded as an item of its own. */
  PREFIX("prefix"),
  /** The decoder waited for the slow path. */
  SLOW_PATH("slow_path"),
  /** The item did not stand in the queue because of a taken branch. */
  TAKEN_BRANCH("taken_branch"),
  /** The item did not stand in the queue because the cache was filling a line. */
  MISS("miss"),
  /** The item did not stand in the queue because windows bring too few bytes. */
  DELIVERY("delivery");

  private final String label;

  SlotUse(String label) {
    this.label = label;
  }

  /**
   * Returns the name in tables.
   *
   * @return lower snake case
   */
  public String label() {
    return label;
  }
}

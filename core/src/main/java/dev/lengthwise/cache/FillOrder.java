package dev.lengthwise.cache;

/** Which window of a line memory sends first. */
public enum FillOrder {
  /** The lowest: windows come in the order of their addresses. */
  IN_ORDER("in_order"),
  /** The one that missed, then those behind it, around the end of the line. */
  CRITICAL_FIRST("critical_first");

  private final String label;

  FillOrder(String label) {
    this.label = label;
  }

  /**
   * Returns the name in tables and emitted heads.
   *
   * @return lower snake case
   */
  public String label() {
    return label;
  }
}

package dev.lengthwise.predecode;

/** What the last lanes of a window do about the bytes behind it. */
public enum WindowEnd {
  /** The first bytes of the next window are inputs, as many as a lane looks ahead. */
  NEXT_BYTES("next_bytes"),
  /** A lane that needs bytes behind the window to decide says "not handled". */
  NOT_HANDLED("not_handled");

  private final String label;

  WindowEnd(String label) {
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

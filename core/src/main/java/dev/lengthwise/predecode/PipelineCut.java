package dev.lengthwise.predecode;

/**
 * Where a lane array has registers beside those of its state; each costs one cycle. A redirect does
 * not clear them: {@link LaneArray} says which marks are still of windows before it.
 */
public enum PipelineCut {
  /** Between the lanes and the marks. */
  AFTER_LANES("after_lanes"),
  /** Behind the marks. */
  AFTER_MARKS("after_marks");

  private final String label;

  PipelineCut(String label) {
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

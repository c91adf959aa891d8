package dev.lengthwise.testbench.vector;

/** What a golden vector is there for. */
public enum VectorKind {
  /** An opcode of a map, under a mode word. */
  ROW("rows"),
  /** A byte after an opcode whose row depends on it. */
  NEXT_BYTE("next bytes"),
  /** A byte of an operand specifier, and where it matters the byte after it. */
  SPECIFIER("specifier bytes"),
  /** An opcode that the lane leaves to the slow path. */
  LEFT_OUT("left-out rows"),
  /** One or more prefixes. */
  PREFIX("prefixes"),
  /** Seeded random bytes. */
  RANDOM("random bytes");

  private final String label;

  VectorKind(String label) {
    this.label = label;
  }

  /**
   * Returns the kind's name in a bench's report.
   *
   * @return a few words
   */
  public String label() {
    return label;
  }
}

package dev.lengthwise.realize;

/** What a lane is made of. */
public enum Style {
  /** A whole ROM for each opcode map, operand specifiers as logic, an adder. */
  ROM("rom"),
  /** Opcode maps split in banks, each bank minimised. */
  BANKED("banked"),
  /** One network of LUTs, decomposed and mapped as a whole. */
  LUT_NETWORK("lut_network");

  private final String label;

  Style(String label) {
    this.label = label;
  }

  /**
   * Returns the style's name in emitted text and tables.
   *
   * @return lower snake case
   */
  public String label() {
    return label;
  }
}

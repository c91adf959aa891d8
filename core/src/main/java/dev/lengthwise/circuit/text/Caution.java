package dev.lengthwise.circuit.text;

/** What emitted files say of figures and safety, alike in every language. */
final class Caution {

  /** For the file of the outermost block. */
  static final String WHOLE =
      "Figures of area, levels and speed are estimates. Timing closure and functional safety are"
          + " for the device vendor's sign-off tools, local codes and licensed practice to"
          + " establish.";

  /** For the files of the blocks inside it: the same in one line. */
  static final String SHORT =
      "Figures are estimates; safety and timing need sign-off, local codes and licensed practice.";

  private Caution() {}
}

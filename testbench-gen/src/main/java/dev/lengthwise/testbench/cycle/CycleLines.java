package dev.lengthwise.testbench.cycle;

/** The cycles of golden vectors one after another. */
public interface CycleLines {

  /**
   * Returns the fields of the next cycle; the object is filled again by the next call.
   *
   * @return the fields
   */
  HexLine next();
}

package dev.lengthwise.testbench;

/** The cycles of golden vectors one after another. */
interface CycleLines {

  /** Returns the fields of the next cycle; the object is filled again by the next call. */
  HexLine next();
}

package dev.lengthwise.circuit;

import java.util.List;

/** A back end that prints circuits. */
public interface CircuitOutput {

  /**
   * Prints a circuit and all blocks inside it.
   *
   * @param top the circuit
   * @return the files, in a fixed order
   */
  List<OutputFile> files(Circuit top);
}

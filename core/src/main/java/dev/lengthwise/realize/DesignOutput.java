package dev.lengthwise.realize;

import dev.lengthwise.circuit.OutputFile;
import java.util.List;

/** A back end that needs the description of a design, not only its circuit. */
public interface DesignOutput {

  /**
   * Prints what the back end makes of a design.
   *
   * @param design the design
   * @return the files, in a fixed order
   */
  List<OutputFile> files(Design design);
}

package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import java.util.List;

/** Computes the words of a {@link RowTable} in hardware. */
public interface WordLogic {

  /** Returns the name of the style of lanes that look up words so. */
  String style();

  /**
   * Adds the logic to a block.
   *
   * @param circuit the block
   * @param table the rows
   * @param key the code
   * @param modes the modes that change words
   * @return the word
   */
  Signal word(CircuitBuilder circuit, RowTable table, Signal key, List<Signal> modes);
}

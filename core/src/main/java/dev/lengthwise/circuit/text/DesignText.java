package dev.lengthwise.circuit.text;

import java.util.Optional;

/** How a language writes the files of a design. {@link EmissionPlans#files} calls it. */
public interface DesignText {

  /**
   * Writes the file of a block.
   *
   * @param plan the block
   * @return its text
   */
  String block(EmissionPlan plan);

  /**
   * Writes the file of the block that LUTs are instances of.
   *
   * @param name its name
   * @return its text, or empty if LUTs are written as something else
   */
  Optional<String> lutBlock(String name);
}

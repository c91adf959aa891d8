package dev.lengthwise.circuit;

import dev.lengthwise.name.HdlName;
import java.util.Objects;

/**
 * A port of a block.
 *
 * @param name a legal name
 * @param direction which way it goes
 * @param width bits, in [1, {@value Node#MOST_WIDTH}]
 * @param doc what it carries, in a few words
 */
public record Port(String name, Direction direction, int width, String doc) {

  /** Which way a port goes. */
  public enum Direction {
    /** Into the block. */
    INPUT,
    /** Out of the block. */
    OUTPUT
  }

  /**
   * Checks the name and the width.
   *
   * @param name see Port
   * @param direction see Port
   * @param width see Port
   * @param doc see Port
   * @throws IllegalArgumentException if the name is not legal or the width out of range
   */
  public Port {
    HdlName.require("port", name);
    Objects.requireNonNull(direction, "direction");
    Objects.requireNonNull(doc, "doc");
    Node.checkWidth("port " + name, width);
  }
}

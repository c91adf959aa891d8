package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.predecode.Predecoder;
import java.util.Objects;

/**
 * A lane made into hardware.
 *
 * @param lane what it handles
 * @param style what it is made of
 * @param circuit the hardware; its name is the lane's
 */
public record Design(Predecoder lane, Style style, Circuit circuit) {

  /**
   * Checks for null.
   *
   * @param lane see Design
   * @param style see Design
   * @param circuit see Design
   */
  public Design {
    Objects.requireNonNull(lane, "lane");
    Objects.requireNonNull(style, "style");
    Objects.requireNonNull(circuit, "circuit");
  }

  /**
   * Returns the design's name.
   *
   * @return the lane's name
   */
  public String name() {
    return lane.name();
  }
}

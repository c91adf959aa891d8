package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;

/**
 * Where a bit of a signal comes from, as near to a name as it can be found: the source has a name,
 * is a constant, or else is an expression.
 *
 * @param source the signal
 * @param bit the bit of it
 */
public record SourceBit(Signal source, int bit) {

  /**
   * Follows a bit through slices and concatenations that have no name.
   *
   * @param plan the block
   * @param signal the signal
   * @param bit the bit of it
   * @return its source
   */
  public static SourceBit of(EmissionPlan plan, Signal signal, int bit) {
    Node node = plan.node(signal);
    if (plan.name(signal.node()).isEmpty()) {
      if (node instanceof Node.Slice slice) {
        return of(plan, slice.source(), slice.low() + bit);
      }
      if (node instanceof Node.Concat concat) {
        int at = 0;
        for (Signal part : concat.parts()) {
          if (bit < at + part.width()) {
            return of(plan, part, bit - at);
          }
          at += part.width();
        }
      }
    }
    return new SourceBit(signal, bit);
  }
}

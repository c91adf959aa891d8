package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * One item of a concatenation as it is printed: neighbouring bits of a signal are one slice.
 *
 * @param signal the signal, with a name unless the part is all of it
 * @param low its lowest bit that is taken
 * @param width the number of its bits that are taken
 * @param copies how often the part stands there
 */
public record ConcatPart(Signal signal, int low, int width, int copies) {

  /**
   * Returns the items of a concatenation.
   *
   * @param plan the block
   * @param concat the node
   * @return the items, the most significant first
   */
  public static List<ConcatPart> of(EmissionPlan plan, Node.Concat concat) {
    List<ConcatPart> parts = new ArrayList<>();
    for (Signal signal : concat.parts()) {
      ConcatPart part =
          plan.name(signal.node()).isEmpty() && plan.node(signal) instanceof Node.Slice slice
              ? new ConcatPart(slice.source(), slice.low(), slice.width(), 1)
              : new ConcatPart(signal, 0, signal.width(), 1);
      ConcatPart before = parts.isEmpty() ? null : parts.get(parts.size() - 1);
      if (before != null && part.continues(before)) {
        parts.set(
            parts.size() - 1,
            new ConcatPart(before.signal, before.low, before.width + part.width, 1));
      } else if (before != null && part.equals(before.withCopies(1))) {
        parts.set(parts.size() - 1, before.withCopies(before.copies + 1));
      } else {
        parts.add(part);
      }
    }
    Collections.reverse(parts);
    return parts;
  }

  private boolean continues(ConcatPart before) {
    return before.copies == 1 && signal.equals(before.signal) && low == before.low + before.width;
  }

  private ConcatPart withCopies(int value) {
    return new ConcatPart(signal, low, width, value);
  }

  /**
   * Tells whether the part is all of the signal.
   *
   * @return true if no bit is left out
   */
  public boolean isWhole() {
    return width == signal.width();
  }
}

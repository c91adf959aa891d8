package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/**
 * One item of a concatenation as it is printed: neighbouring bits of a signal are one slice, and
 * neighbouring constants one constant.
 *
 * @param signal the signal, with a name unless the part is all of it; for a constant, one of those
 *     that it is made of
 * @param constant the constant, if it is one without a name
 * @param low its lowest bit that is taken
 * @param width the number of its bits that are taken
 * @param copies how often the part stands there
 */
public record ConcatPart(
    Signal signal, Optional<Node.Constant> constant, int low, int width, int copies) {

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
      ConcatPart part = of(plan, signal);
      ConcatPart before = parts.isEmpty() ? null : parts.get(parts.size() - 1);
      if (before != null && part.continues(before)) {
        parts.set(parts.size() - 1, before.with(part));
      } else if (before != null && part.equals(before.withCopies(1))) {
        parts.set(parts.size() - 1, before.withCopies(before.copies + 1));
      } else {
        parts.add(part);
      }
    }
    Collections.reverse(parts);
    return parts;
  }

  private static ConcatPart of(EmissionPlan plan, Signal signal) {
    Optional<Node.Constant> none = Optional.empty();
    if (plan.name(signal.node()).isEmpty()) {
      if (plan.node(signal) instanceof Node.Slice slice) {
        return new ConcatPart(slice.source(), none, slice.low(), slice.width(), 1);
      }
      if (plan.node(signal) instanceof Node.Constant constant) {
        return new ConcatPart(signal, Optional.of(constant), 0, signal.width(), 1);
      }
    }
    return new ConcatPart(signal, none, 0, signal.width(), 1);
  }

  /** Returns this part and one above it as one. */
  private ConcatPart with(ConcatPart above) {
    Optional<Node.Constant> both =
        constant.map(
            low ->
                new Node.Constant(
                    above.constant.orElseThrow().value().shiftLeft(low.width()).or(low.value()),
                    low.width() + above.width));
    return new ConcatPart(signal, both, low, width + above.width, 1);
  }

  private boolean continues(ConcatPart before) {
    if (constant.isPresent() || before.constant.isPresent()) {
      return constant.isPresent() && before.constant.isPresent();
    }
    return before.copies == 1 && signal.equals(before.signal) && low == before.low + before.width;
  }

  private ConcatPart withCopies(int value) {
    return new ConcatPart(signal, constant, low, width, value);
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

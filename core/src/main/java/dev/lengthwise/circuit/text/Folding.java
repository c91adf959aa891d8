package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * Rewrites nodes that no language can print as they are, or that linters or readers call pointless:
 * slices of unnamed slices, concatenations and constants, comparisons that are never true, double
 * inversions, lookups and choices by a constant, choices of one bit between 1 or 0 and another,
 * neighbouring bits side by side, bits compared with constants, and operands that change nothing.
 */
final class Folding {

  private final Circuit circuit;
  private final List<Node> folded = new ArrayList<>();

  private Folding(Circuit circuit) {
    this.circuit = circuit;
  }

  /** Returns the nodes to print, one for each node of the circuit, with the same values. */
  static List<Node> of(Circuit circuit) {
    Folding folding = new Folding(circuit);
    for (Node node : circuit.nodes()) {
      folding.folded.add(folding.fold(node));
    }
    return List.copyOf(folding.folded);
  }

  private Node fold(Node node) {
    if (node instanceof Node.Slice slice) {
      return slice(slice.source(), slice.low(), slice.width());
    }
    if (node instanceof Node.Compare compare) {
      return compare(compare);
    }
    if (node instanceof Node.Lookup lookup
        && folded.get(lookup.address().node()) instanceof Node.Constant address) {
      Contents contents = lookup.contents();
      String word = Long.toUnsignedString(contents.word(address.value().intValue()));
      return new Node.Constant(new BigInteger(word), contents.dataBits());
    }
    if (node instanceof Node.Select select) {
      return select(select);
    }
    if (node instanceof Node.Bitwise bitwise) {
      return bitwise(bitwise);
    }
    if (node instanceof Node.Concat concat) {
      return concat(concat);
    }
    if (node instanceof Node.Not not
        && folded.get(not.source().node()) instanceof Node.Not inner
        && !isNamed(not.source())) {
      return slice(inner.source(), 0, inner.width());
    }
    return node;
  }

  private Node compare(Node.Compare compare) {
    if (!compare.equal()) {
      return neverLess(compare) ? new Node.Constant(BigInteger.ZERO, 1) : compare;
    }
    return compare.left().width() == 1
            && folded.get(compare.right().node()) instanceof Node.Constant right
        ? bit(compare.left(), right.value().signum() != 0)
        : compare;
  }

  private Node select(Node.Select select) {
    List<Node> choices = select.choices().stream().map(c -> folded.get(c.node())).toList();
    if (folded.get(select.index().node()) instanceof Node.Constant index) {
      BigInteger last = BigInteger.valueOf(choices.size() - 1L);
      Signal choice = select.choices().get(index.value().min(last).intValue());
      return slice(choice, 0, choice.width());
    }
    boolean constant = choices.stream().allMatch(Node.Constant.class::isInstance);
    if (constant && choices.stream().distinct().count() == 1) {
      return choices.get(0);
    }
    if (select.width() > 1 || select.index().width() > 1) {
      return select;
    }
    if (constant) {
      return bit(select.index(), ((Node.Constant) choices.get(1)).value().signum() != 0);
    }
    return oneBit(select, choices);
  }

  /** A choice between a bit and 0 or 1 is a gate, where it needs no inversion. */
  private Node oneBit(Node.Select select, List<Node> choices) {
    if (choices.get(0) instanceof Node.Constant zero && zero.value().signum() == 0) {
      return bitwise(
          new Node.Bitwise(Node.Operation.AND, List.of(select.index(), select.choices().get(1))));
    }
    return choices.get(1) instanceof Node.Constant one && one.value().signum() == 1
        ? bitwise(
            new Node.Bitwise(Node.Operation.OR, List.of(select.index(), select.choices().get(0))))
        : select;
  }

  /** Neighbouring bits of one signal are a slice of it. */
  private Node concat(Node.Concat concat) {
    Signal source = null;
    int low = 0;
    int next = 0;
    for (Signal part : concat.parts()) {
      if (isNamed(part) || !(folded.get(part.node()) instanceof Node.Slice slice)) {
        return concat;
      }
      if (source == null) {
        source = slice.source();
        low = slice.low();
        next = low;
      }
      if (!slice.source().equals(source) || slice.low() != next) {
        return concat;
      }
      next += slice.width();
    }
    return slice(source, low, next - low);
  }

  private boolean isNamed(Signal signal) {
    return circuit.nameOf(signal.node()).isPresent()
        || circuit.commentOn(signal.node()).isPresent();
  }

  /** Returns a bit as it is, or its inverse. */
  private Node bit(Signal bit, boolean asItIs) {
    return asItIs ? slice(bit, 0, 1) : inverse(bit);
  }

  private Node inverse(Signal bit) {
    return folded.get(bit.node()) instanceof Node.Constant constant
        ? new Node.Constant(BigInteger.ONE.subtract(constant.value()), 1)
        : new Node.Not(bit);
  }

  /** Drops zeros of an OR and XOR, and ones of an AND. */
  private Node bitwise(Node.Bitwise bitwise) {
    int ones = bitwise.operation() == Node.Operation.AND ? bitwise.width() : 0;
    List<Signal> left = new ArrayList<>();
    for (Signal operand : bitwise.operands()) {
      if (!(folded.get(operand.node()) instanceof Node.Constant constant
          && constant.value().bitCount() == ones)) {
        left.add(operand);
      }
    }
    if (left.isEmpty()) {
      return folded.get(bitwise.operands().get(0).node());
    }
    return left.size() == 1
        ? slice(left.get(0), 0, bitwise.width())
        : new Node.Bitwise(bitwise.operation(), left);
  }

  private boolean neverLess(Node.Compare compare) {
    return (folded.get(compare.right().node()) instanceof Node.Constant right
            && right.value().signum() == 0)
        || (folded.get(compare.left().node()) instanceof Node.Constant left
            && left.value().bitCount() == left.width());
  }

  private Node slice(Signal source, int low, int width) {
    Node of = folded.get(source.node());
    boolean named = isNamed(source);
    if (of instanceof Node.Constant constant) {
      BigInteger mask = BigInteger.ONE.shiftLeft(width).subtract(BigInteger.ONE);
      return new Node.Constant(constant.value().shiftRight(low).and(mask), width);
    }
    if (of instanceof Node.Slice inner && !named) {
      return slice(inner.source(), inner.low() + low, width);
    }
    if (of instanceof Node.Concat concat && !named) {
      int from = 0;
      for (Signal part : concat.parts()) {
        if (low >= from && low + width <= from + part.width()) {
          return slice(part, low - from, width);
        }
        from += part.width();
      }
    }
    return new Node.Slice(source, low, width);
  }
}

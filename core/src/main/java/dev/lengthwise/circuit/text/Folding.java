package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;

/**
 * Rewrites nodes that no language can print as they are, or that linters call pointless: slices of
 * unnamed slices, concatenations and constants, comparisons that are never true, and lookups and
 * choices by a constant.
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
    if (node instanceof Node.Compare compare && !compare.equal() && neverLess(compare)) {
      return new Node.Constant(BigInteger.ZERO, 1);
    }
    if (node instanceof Node.Lookup lookup
        && folded.get(lookup.address().node()) instanceof Node.Constant address) {
      Contents contents = lookup.contents();
      String word = Long.toUnsignedString(contents.word(address.value().intValue()));
      return new Node.Constant(new BigInteger(word), contents.dataBits());
    }
    if (node instanceof Node.Select select
        && folded.get(select.index().node()) instanceof Node.Constant index) {
      BigInteger last = BigInteger.valueOf(select.choices().size() - 1L);
      Signal choice = select.choices().get(index.value().min(last).intValue());
      return slice(choice, 0, choice.width());
    }
    return node;
  }

  private boolean neverLess(Node.Compare compare) {
    return (folded.get(compare.right().node()) instanceof Node.Constant right
            && right.value().signum() == 0)
        || (folded.get(compare.left().node()) instanceof Node.Constant left
            && left.value().bitCount() == left.width());
  }

  private Node slice(Signal source, int low, int width) {
    Node of = folded.get(source.node());
    boolean named =
        circuit.nameOf(source.node()).isPresent() || circuit.commentOn(source.node()).isPresent();
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

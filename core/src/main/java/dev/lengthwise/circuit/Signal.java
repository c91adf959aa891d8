package dev.lengthwise.circuit;

/**
 * The output of a node: a bundle of bits, bit 0 the least significant.
 *
 * <p>A signal belongs to the builder that made it, and no other takes it. Equal when circuit and
 * node are the same.
 */
public final class Signal {

  private final LogicBuilder owner;
  private final int node;
  private final int width;

  Signal(LogicBuilder owner, int node, int width) {
    this.owner = owner;
    this.node = node;
    this.width = width;
  }

  /**
   * Returns the place of the node in its circuit.
   *
   * @return at least 0
   */
  public int node() {
    return node;
  }

  /**
   * Returns the width.
   *
   * @return bits, in [1, {@value Node#MOST_WIDTH}]
   */
  public int width() {
    return width;
  }

  boolean isOf(LogicBuilder builder) {
    return owner == builder;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Signal that && owner == that.owner && node == that.node;
  }

  @Override
  public int hashCode() {
    return node;
  }

  @Override
  public String toString() {
    return "node " + node + " of " + owner.name;
  }
}

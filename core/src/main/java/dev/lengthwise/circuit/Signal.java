package dev.lengthwise.circuit;

/**
 * The output of a node: a bundle of bits, bit 0 the least significant.
 *
 * @param node the place of the node in its circuit
 * @param width bits
 */
public record Signal(int node, int width) {}

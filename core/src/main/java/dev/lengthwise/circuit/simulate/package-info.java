/**
 * A circuit run cycle by cycle in this process.
 *
 * <p>Called by the built-in simulator of the benches and by tests. Start at {@link
 * dev.lengthwise.circuit.simulate.CircuitSimulator}; a circuit and the blocks inside it are
 * flattened to one program of words.
 */
package dev.lengthwise.circuit.simulate;

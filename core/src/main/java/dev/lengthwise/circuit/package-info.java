/**
 * The small hardware graph that every back end prints.
 *
 * <p>A {@link dev.lengthwise.circuit.Circuit} is one block: ports, nodes and the signals that drive
 * its outputs. Nodes are values of the sealed type {@link dev.lengthwise.circuit.Node}; a signal is
 * the output of one node. Combinational nodes refer to earlier nodes only, so loops exist through
 * registers and memories alone. Circuits are immutable and are written with a {@link
 * dev.lengthwise.circuit.CircuitBuilder}.
 *
 * <p>Conventions. Bit 0 is the least significant. Arithmetic is unsigned. A clocked block has,
 * beside its declared ports, one {@code clock} (rising edge) and, unless its reset is {@link
 * dev.lengthwise.circuit.Reset#NONE}, one {@code reset}; reset is synchronous, and leaves data
 * registers as they are. A memory that is read and written at one address in a cycle reads the old
 * word.
 *
 * <p>Names of blocks and ports are legal in every emitted language ({@link
 * dev.lengthwise.name.HdlName}) and are never changed; names given to signals are wishes, which the
 * emitters make unique.
 */
package dev.lengthwise.circuit;

/**
 * Ready-made descriptions of published instruction sets, and the door by which any set is taken by
 * name.
 *
 * <p>Each description follows the opcode maps of the architecture's published manual: a blank cell
 * is undefined here too, even where processors are known to do something with it.
 *
 * <p>Examples and build scripts ask {@link dev.lengthwise.isa.NamedSet#of} for a set; whoever
 * describes one gives it a name with a {@link dev.lengthwise.isa.SetProvider}.
 */
package dev.lengthwise.isa;

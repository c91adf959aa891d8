/**
 * Ready-made descriptions of published instruction sets.
 *
 * <p>Each description follows the opcode maps of the architecture's published manual: a blank cell
 * is undefined here too, even where processors are known to do something with it.
 */
package dev.lengthwise.isa;

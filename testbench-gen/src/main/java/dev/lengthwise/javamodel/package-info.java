/**
 * The Java reference model: sources that a cycle simulator can use without any library.
 *
 * <p>{@link dev.lengthwise.javamodel.JavaModel} prints two classes for a design. The length model
 * says the true length of the instruction at a place in memory; the lane model says what the lane
 * says there. Both are written from the description, never from a circuit: an opcode map is a
 * picture of letters, one for each code, and one method says what each letter means.
 */
package dev.lengthwise.javamodel;

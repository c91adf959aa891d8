/**
 * What the emitters of all languages share: which node becomes a signal and under which name, the
 * order of statements, the head of a file, the block that LUTs are instances of, what instances are
 * connected to, which registers stand together, safe comments, and the text sink.
 *
 * <p>An emitter prints a design with {@link dev.lengthwise.circuit.text.EmissionPlans#files}, as a
 * {@link dev.lengthwise.circuit.text.DesignText}, and the statements of each block with a {@link
 * dev.lengthwise.circuit.text.BlockText}. Exported to the emitters only.
 */
package dev.lengthwise.circuit.text;

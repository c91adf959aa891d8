/**
 * The truth: lengths and instruction boundaries computed from a full description.
 *
 * <p>Every other output (circuits, vectors, reference models, studies) is checked against this
 * package. It is compiled from a description to flat tables, and allocates nothing per instruction.
 */
package dev.lengthwise.golden;

/**
 * The block behind the lanes that finds where items start: one class for each marking.
 *
 * <p>Start at {@link dev.lengthwise.realize.marks.MarkBlocks}; the golden function of all of them
 * is {@code ArrayModel}.
 */
package dev.lengthwise.realize.marks;

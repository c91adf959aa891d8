/**
 * Lanes side by side, what they share, and the top of a row.
 *
 * <p>Start at {@link dev.lengthwise.realize.row.RowTop}; {@link
 * dev.lengthwise.realize.row.SharedLane} is what stands at each byte.
 */
package dev.lengthwise.realize.row;

/**
 * The truth: lengths and instruction boundaries computed from a full description, what a lane says,
 * and what a row of lanes marks.
 *
 * <p>Start at {@link dev.lengthwise.golden.GoldenModel} for an instruction set, {@link
 * dev.lengthwise.golden.LaneModel} for a lane, {@link dev.lengthwise.golden.ArrayModel} for a row
 * window by window and {@link dev.lengthwise.golden.ArrayClock} cycle by cycle.
 *
 * <p>Every other output (circuits, vectors, reference models, studies) is checked against this
 * package. It is compiled from a description to flat tables, and allocates nothing per instruction.
 */
package dev.lengthwise.golden;

/**
 * What a lane handles: the restriction of an instruction set that the circuit at one byte position
 * implements.
 *
 * <p>A lane sees its own byte and a few after it, and the modes. It says a length, or 0: not
 * handled, the slow path must decide. It never says a wrong length. {@link
 * dev.lengthwise.predecode.Predecoder} states the restriction in the user's terms, {@link
 * dev.lengthwise.predecode.row.LaneTable} states what it leaves of each row, and {@link
 * dev.lengthwise.golden.LaneModel} computes what the lane says.
 *
 * <p>{@link dev.lengthwise.predecode.LaneArray} puts lanes side by side over a fetch window and
 * says how starts are marked; {@link dev.lengthwise.golden.ArrayModel} is its golden function
 * window by window, {@link dev.lengthwise.golden.ArrayClock} cycle by cycle.
 */
package dev.lengthwise.predecode;

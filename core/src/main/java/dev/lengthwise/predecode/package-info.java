/**
 * What a lane handles: the restriction of an instruction set that the circuit at one byte position
 * implements, and its golden function.
 *
 * <p>A lane sees its own byte and a few after it, and the modes. It says a length, or 0: not
 * handled, the slow path must decide. It never says a wrong length. {@link
 * dev.lengthwise.predecode.Predecoder} states the restriction in the user's terms, {@link
 * dev.lengthwise.predecode.LaneTable} states what it leaves of each row, and {@link
 * dev.lengthwise.predecode.LaneModel} computes what the lane says.
 */
package dev.lengthwise.predecode;

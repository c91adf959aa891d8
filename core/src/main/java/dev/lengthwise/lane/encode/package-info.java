/**
 * The codes that blocks of a lane speak to each other: called by {@code LaneMapper} with a {@code
 * LaneFunction}.
 *
 * <p>Start at {@link dev.lengthwise.lane.encode.CodeSearch}, which searches them; {@link
 * dev.lengthwise.lane.encode.EncodingConstraints}, what codes must tell apart; {@link
 * dev.lengthwise.lane.encode.MapEncoder} solves an opcode map for a drawn wiring, and {@link
 * dev.lengthwise.lane.encode.LaneAssembly} puts the solved blocks together as LUTs.
 */
package dev.lengthwise.lane.encode;

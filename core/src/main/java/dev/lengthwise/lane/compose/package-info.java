/**
 * Lanes composed of smaller ones: called by {@code LaneMapper} where LUTs count first and codes
 * chosen across all blocks cost more, or are not found.
 *
 * <p>Start at {@link dev.lengthwise.lane.compose.AlignedLane}, which reads a specifier once
 * wherever it stands; {@link dev.lengthwise.lane.compose.HandledLane} tells apart what is handled
 * and how long it is.
 */
package dev.lengthwise.lane.compose;

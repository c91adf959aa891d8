/**
 * A lane as a network of LUTs: what {@code realize} calls for the style LUT_NETWORK, with a {@link
 * dev.lengthwise.predecode.row.LaneTable} and {@code MapperSettings}.
 *
 * <p>{@link dev.lengthwise.lane.function.LaneFunctions} turns the table into a {@code
 * LaneFunction}; {@link dev.lengthwise.lane.LaneMapper}, where to start reading, chooses codes
 * across its blocks, or composes the lane of smaller ones, and returns a proved {@code
 * LaneMapping}.
 */
package dev.lengthwise.lane;

/**
 * A lane as a circuit: called by {@code realize.style} with a {@code LaneTable}.
 *
 * <p>Start at {@link dev.lengthwise.realize.lane.MapCore}, a lane of looked-up words; a {@link
 * dev.lengthwise.realize.lane.WordLogic} says what looks them up; {@link
 * dev.lengthwise.realize.lane.LutLane} is a mapped one.
 */
package dev.lengthwise.realize.lane;

/**
 * A mapped lane: its network, what each LUT is for, how it is shrunk, proved and shared by lanes
 * side by side.
 *
 * <p>Start at {@link dev.lengthwise.lane.network.LaneMapping}, the result; {@link
 * dev.lengthwise.lane.network.LaneShrink} rewrites it and {@link
 * dev.lengthwise.lane.network.LaneProof} compares it with the function, exhaustively.
 */
package dev.lengthwise.lane.network;

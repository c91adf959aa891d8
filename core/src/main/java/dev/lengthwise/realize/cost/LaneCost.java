package dev.lengthwise.realize.cost;

/**
 * What a lane costs alone, and beside others. An estimate, as {@link BlockCost} is.
 *
 * @param alone LUTs of the lane as a design of its own
 * @param inRow LUTs of all lanes of the row, work that they share counted once, and of their prefix
 *     bits, by the number of lanes
 */
public record LaneCost(int alone, double inRow) {}

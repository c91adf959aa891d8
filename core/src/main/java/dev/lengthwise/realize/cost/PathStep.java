package dev.lengthwise.realize.cost;

/**
 * One step of a critical path.
 *
 * @param name what the signal passes
 * @param level the LUT levels up to and including this step; 0 for an input
 */
public record PathStep(String name, int level) {}

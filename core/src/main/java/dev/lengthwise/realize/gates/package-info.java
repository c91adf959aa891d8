/**
 * Circuits as gates: levels and LUTs of what is not a network already, and the cover of a banked
 * lane by LUTs.
 *
 * <p>Start at {@link dev.lengthwise.realize.gates.GateCover}; {@link
 * dev.lengthwise.realize.gates.CriticalPath} names the signals on the longest path.
 */
package dev.lengthwise.realize.gates;

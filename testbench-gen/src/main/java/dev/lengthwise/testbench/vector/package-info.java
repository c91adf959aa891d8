/**
 * Golden vectors: what is applied, and what the golden model answers; and the simulator built in,
 * which runs them.
 *
 * <p>Start at {@link dev.lengthwise.testbench.vector.LaneVectors}, {@link
 * dev.lengthwise.testbench.vector.ArrayVectors} and {@link
 * dev.lengthwise.testbench.vector.FetchVectors}.
 */
package dev.lengthwise.testbench.vector;

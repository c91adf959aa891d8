/**
 * The fields of a cycle in vectors of rows of lanes and fetch units, and a cycle as hexadecimal
 * digits.
 *
 * <p>Called by what makes vectors, by the benches' text and by the simulator built in. Start at
 * {@link dev.lengthwise.testbench.cycle.CycleFields}.
 */
package dev.lengthwise.testbench.cycle;

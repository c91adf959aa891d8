/**
 * Golden vectors, self-checking testbenches, and the runners that call installed simulators.
 *
 * <p>Vectors come from the golden function of a lane, never from a circuit, so a bench that passes
 * says that the emitted text means what the description means. A bench prints how many vectors it
 * ran and what they cover, the first mismatches with inputs, expected and found, and ends the
 * simulator with a status other than 0 if there is one, or if the vectors could not be read. Both
 * languages' benches read the same vectors and print the same report; a {@link
 * dev.lengthwise.testbench.run.Simulator} compiles and runs one and gives the report as a value.
 *
 * <p>{@link dev.lengthwise.testbench.vector.LaneVectors} are those of a lane; {@link
 * dev.lengthwise.testbench.vector.ArrayVectors} those of a row of lanes, cycle by cycle.
 */
package dev.lengthwise.testbench;

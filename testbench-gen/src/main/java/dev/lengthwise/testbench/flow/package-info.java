/**
 * What an open flow for four-input LUTs makes of designs: LUTs, registers and the clock after
 * placement and routing.
 *
 * <p>A build script writes a design inside a {@link dev.lengthwise.testbench.flow.TimingTrial},
 * which has registers on both sides and needs few pins, and runs {@link
 * dev.lengthwise.testbench.flow.OpenFlow} on what it wrote. Start there.
 */
package dev.lengthwise.testbench.flow;

/**
 * Prints circuits in the synthesizable subset of IEEE 1364-2005.
 *
 * <p>One module a file, ANSI ports, {@code default_nettype none} throughout, no latch and no {@code
 * initial} block. Lookups are functions or indexed constants, the LUTs of networks instances of one
 * small module that synthesizers keep, memories the read-first shapes that synthesizers take for
 * block and distributed RAM. {@link dev.lengthwise.verilog.VerilogOptions} changes that.
 */
package dev.lengthwise.verilog;

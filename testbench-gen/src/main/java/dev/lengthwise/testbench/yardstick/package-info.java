/**
 * What a general synthesizer makes of the same function, to compare with.
 *
 * <p>Start at {@link dev.lengthwise.testbench.yardstick.Yosys}, which calls the Debian package of
 * that name.
 */
package dev.lengthwise.testbench.yardstick;

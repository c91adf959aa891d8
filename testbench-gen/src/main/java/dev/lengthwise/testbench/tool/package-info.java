/**
 * Programs run to their end with a limit of time, and the files that a design was written to.
 *
 * <p>Called by the simulators and the yardsticks. Start at {@link
 * dev.lengthwise.testbench.tool.ToolRun}.
 */
package dev.lengthwise.testbench.tool;

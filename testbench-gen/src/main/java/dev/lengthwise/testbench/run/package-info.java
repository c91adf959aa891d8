/**
 * Simulators that run what was written: called by tests, by users' build scripts and by examples.
 *
 * <p>Start at {@link dev.lengthwise.testbench.run.Simulator}; each class names the Debian package
 * that it calls.
 */
package dev.lengthwise.testbench.run;

/**
 * The benches as text, one class for a language and a kind of design.
 *
 * <p>Called by {@code Testbenches} with a design and its vectors. Start at {@link
 * dev.lengthwise.testbench.bench.VerilogLaneBench}.
 */
package dev.lengthwise.testbench.bench;

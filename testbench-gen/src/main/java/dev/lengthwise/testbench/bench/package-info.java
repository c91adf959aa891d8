/**
 * The benches as text: what stands in a bench of a kind of design, and a class for each language
 * that says how it reads. What all benches of a language share stands in its pieces.
 *
 * <p>Called by {@code Testbenches} with a design and its vectors. Start at {@code LaneBench}.
 */
package dev.lengthwise.testbench.bench;

/**
 * What is said to a mapper, whatever it maps: what counts first, how much it may work, who listens.
 *
 * <p>Below it stand, each in a package of its own, the functions, covers, networks and searches
 * over Boolean functions. None knows an instruction set. Start at {@link
 * dev.lengthwise.logic.Objective} and {@link dev.lengthwise.logic.Effort}.
 *
 * <p>Conventions of all of them. A point of an n-input function is an integer in [0, 2^n); input i
 * is bit i of it, so input 0 is the least significant. A function over a set of points is packed
 * into {@code long} words: point p is bit {@code p & 63} of word {@code p >> 6}; unused high bits
 * of the last word are 0.
 */
package dev.lengthwise.logic;

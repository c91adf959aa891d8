/**
 * Boolean functions and their realisation in LUTs: truth tables with don't-cares, two-level covers,
 * functional decomposition, LUT networks, dual-output packing and proof.
 *
 * <p>Conventions of the package. A point of an n-input function is an integer in [0, 2^n); input i
 * is bit i of it, so input 0 is the least significant. A function over a set of points is packed
 * into {@code long} words: point p is bit {@code p & 63} of word {@code p >> 6}; unused high bits
 * of the last word are 0.
 */
package dev.lengthwise.logic;

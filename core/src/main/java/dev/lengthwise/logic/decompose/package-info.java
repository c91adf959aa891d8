/**
 * Single steps from tables to LUTs: decomposition by column multiplicity, Shannon trees.
 *
 * <p>{@code LutMapper} makes its starts by them; gates are covered by {@code logic.gates}. A new
 * step is a class here and a line in {@code LutMapper}.
 */
package dev.lengthwise.logic.decompose;

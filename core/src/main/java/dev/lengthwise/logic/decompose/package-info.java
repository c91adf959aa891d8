/**
 * Single steps from tables or gates to LUTs: decomposition by column multiplicity, Shannon trees,
 * covers by cuts.
 *
 * <p>{@code LutMapper} makes its starts by them; gates are covered by {@link
 * dev.lengthwise.logic.decompose.CutMapper}. A new step is a class here and a line in {@code
 * LutMapper}.
 */
package dev.lengthwise.logic.decompose;

/**
 * Gates to LUTs: a graph of AND gates, changed for few levels and few gates, and covered by cuts.
 *
 * <p>Start at {@link dev.lengthwise.logic.gates.Restructuring}, which circuits and table mappers
 * call. {@code CoverSearch} says in which order the steps come: {@code Balancing} for levels,
 * {@code SharedSums} for parities, {@code ConeRewriting} for gates, {@code CutCover} for LUTs.
 * {@code SharedChoices} makes gates for tables. A new step returns a graph of the same outputs and
 * is a line in {@code CoverSearch}.
 */
package dev.lengthwise.logic.gates;

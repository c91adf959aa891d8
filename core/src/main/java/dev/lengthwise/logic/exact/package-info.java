/**
 * Networks and codes that exist or provably do not: called with a wiring and what it has to do,
 * answers by a satisfiability solver.
 *
 * <p>Start at {@link dev.lengthwise.logic.exact.RelationSynthesis}, tables for a {@link
 * dev.lengthwise.logic.exact.Wiring}; {@link dev.lengthwise.logic.exact.EncodingSynthesis} chooses
 * codes as well.
 */
package dev.lengthwise.logic.exact;

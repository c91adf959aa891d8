/**
 * Set covering, exact by branch and bound or by local search: called by the two-level minimiser.
 *
 * <p>Start at {@link dev.lengthwise.logic.covering.CoveringSolver}, with a {@link
 * dev.lengthwise.logic.covering.CoveringProblem}.
 */
package dev.lengthwise.logic.covering;

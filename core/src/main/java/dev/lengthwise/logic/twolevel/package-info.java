/**
 * Sums of products of several outputs, exact or searched: called for banks and by who writes tables
 * by hand.
 *
 * <p>Start at {@link dev.lengthwise.logic.twolevel.TwoLevelMinimizer}: primes, a chart, a cover of
 * it.
 */
package dev.lengthwise.logic.twolevel;

/**
 * The satisfiability solver as the searches see it.
 *
 * <p>Start at {@link dev.lengthwise.logic.sat.Sat}, clauses in and a model out; one class adapts
 * the library.
 */
package dev.lengthwise.logic.sat;

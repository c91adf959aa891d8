/**
 * Whether a network is a function, or two networks agree: called after every search, with a
 * counterexample if not.
 *
 * <p>Start at {@link dev.lengthwise.logic.proof.Proof}; {@link
 * dev.lengthwise.logic.proof.Equivalence} compares networks too wide for tables.
 */
package dev.lengthwise.logic.proof;

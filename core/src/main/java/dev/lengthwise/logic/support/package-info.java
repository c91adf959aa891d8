/**
 * Which inputs a function needs, and which of them are alike: called for banks, and by users
 * through {@code BitAccount} and the explanation of a design.
 *
 * <p>Start at {@link dev.lengthwise.logic.support.SupportReducer}; {@link
 * dev.lengthwise.logic.support.SymmetryReport} answers which bits may be swapped.
 */
package dev.lengthwise.logic.support;

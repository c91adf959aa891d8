/**
 * Which inputs a function needs, and which of them are alike: called for banks, and by users
 * through {@code Explanation} of a design.
 *
 * <p>Start at {@link dev.lengthwise.logic.support.SupportReducer}; {@link
 * dev.lengthwise.logic.support.SymmetryReport} answers which pair of bits may be swapped but for
 * which rows.
 */
package dev.lengthwise.logic.support;

/**
 * Opcode tables split in banks: called by the style BANKED with one function a word bit.
 *
 * <p>Start at {@link dev.lengthwise.logic.bank.BankSplitter}, which returns a {@link
 * dev.lengthwise.logic.bank.BankPlan}.
 */
package dev.lengthwise.logic.bank;

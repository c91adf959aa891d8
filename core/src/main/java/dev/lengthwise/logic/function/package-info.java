/**
 * Truth tables with open points: what users bring and every search starts from.
 *
 * <p>Start at {@link dev.lengthwise.logic.function.TruthTable}; {@link
 * dev.lengthwise.logic.function.TruthTables} is several over the same inputs.
 */
package dev.lengthwise.logic.function;

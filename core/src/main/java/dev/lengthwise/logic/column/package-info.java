/**
 * From a function of many values over many inputs to one over few: groups of inputs that matter by
 * a few classes only are replaced by the code of the class.
 *
 * <p>Start at {@link dev.lengthwise.logic.column.ColumnReduction}, which word-coded opcode maps are
 * mapped by.
 */
package dev.lengthwise.logic.column;

/**
 * Small parts that lanes, rows and heads of files share: ports, fields of a row, facts.
 *
 * <p>Start at {@link dev.lengthwise.realize.cells.LanePorts}.
 */
package dev.lengthwise.realize.cells;

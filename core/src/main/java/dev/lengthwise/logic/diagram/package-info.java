/**
 * Binary decision diagrams: called by what compares and shrinks lanes.
 *
 * <p>Start at {@link dev.lengthwise.logic.diagram.DecisionDiagrams}.
 */
package dev.lengthwise.logic.diagram;

/**
 * Walks that make a network smaller or shallower while its function stays: called by both mappers.
 *
 * <p>Start at {@link dev.lengthwise.logic.rewrite.PlateauWalk}, fewer LUTs, and {@link
 * dev.lengthwise.logic.rewrite.LevelReduction}, fewer levels; both change an {@link
 * dev.lengthwise.logic.rewrite.EditableNetwork}.
 */
package dev.lengthwise.logic.rewrite;

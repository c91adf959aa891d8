/**
 * Walks that make a network smaller or shallower while its function stays: called by both mappers.
 *
 * <p>Start at {@link dev.lengthwise.logic.rewrite.ExchangeWalk}, fewer LUTs of a table, {@link
 * dev.lengthwise.logic.rewrite.PlateauWalk}, fewer LUTs of a lane, and {@link
 * dev.lengthwise.logic.rewrite.LevelReduction}, fewer levels; both change an {@link
 * dev.lengthwise.logic.rewrite.EditableNetwork}.
 */
package dev.lengthwise.logic.rewrite;

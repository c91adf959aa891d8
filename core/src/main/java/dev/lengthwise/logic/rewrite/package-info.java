/**
 * Walks that make a network smaller or shallower while its function stays: called by both mappers.
 *
 * <p>Start at {@link dev.lengthwise.logic.rewrite.PlateauWalk}, fewer LUTs of a table or a lane,
 * and {@link dev.lengthwise.logic.rewrite.LevelReduction}, fewer levels; both change an {@link
 * dev.lengthwise.logic.rewrite.EditableNetwork}, whose {@code Timing} says what slack there is.
 * Where the points of a function are too many to be seen at each look, some are seen, and the
 * others are in {@code Reserve}: a change is tried there before it is kept.
 */
package dev.lengthwise.logic.rewrite;

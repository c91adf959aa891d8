/**
 * Functions as words of points, as all searches read them.
 *
 * <p>Start at {@link dev.lengthwise.logic.words.PointWords}; {@link
 * dev.lengthwise.logic.words.OutputWords} holds what outputs need and may hold at each point.
 */
package dev.lengthwise.logic.words;

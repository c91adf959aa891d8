/**
 * What the restrictions of a lane leave of each row: the one place where they are applied.
 *
 * <p>Golden functions and circuits both start from {@link dev.lengthwise.predecode.row.LaneTable}.
 */
package dev.lengthwise.predecode.row;

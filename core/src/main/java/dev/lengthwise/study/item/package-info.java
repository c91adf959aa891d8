/**
 * How a lane takes an instruction apart: prefixes that are items of their own, and the rest.
 *
 * <p>Called by what counts accuracy and by what runs streams. Start at {@link
 * dev.lengthwise.study.item.LaneItems}.
 */
package dev.lengthwise.study.item;

/**
 * Description, style and device in; circuit and cost out.
 *
 * <p>A {@link dev.lengthwise.realize.Realizer} turns a lane into a {@link
 * dev.lengthwise.realize.Design}. Every style starts from the same {@link
 * dev.lengthwise.predecode.row.LaneTable}, so all of them mean the same; they differ in what the
 * lane is made of.
 *
 * <p>Ports of a lane: {@code code}, the bytes that it sees, its own byte in bits 7 to 0; one port
 * of one bit for each mode; {@code length}, 0 for "not handled".
 */
package dev.lengthwise.realize;

/**
 * What lanes of a style are made of: one class for each style, chosen by {@code Realizer}.
 *
 * <p>Start at {@link dev.lengthwise.realize.style.LaneStyle}. A style more is a class here, a
 * constant of {@code Style} and the case that the compiler then asks {@code Realizer} for.
 */
package dev.lengthwise.realize.style;

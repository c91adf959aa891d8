/**
 * Which bits of its code a lane's answer turns on, and what each that could go would cost.
 *
 * <p>The explanation of a design and the example {@code mapping --bits} call {@link
 * dev.lengthwise.lane.support.BitAccount} with a lane or with tables; it states the findings of
 * {@code logic.support} in the names of bytes and modes. Start there.
 */
package dev.lengthwise.lane.support;

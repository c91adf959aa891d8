/**
 * From a table to a network of LUTs: the door for users who map functions of their own.
 *
 * <p>Start at {@link dev.lengthwise.logic.map.LutMapper}: it makes starts by {@code
 * logic.decompose}, shrinks each and lets the best race by {@code logic.rewrite}, keeps the best in
 * {@code logic.network}'s order, and {@code logic.proof} proves the result. {@link
 * dev.lengthwise.logic.map.MapperSettings} says what is mapped for.
 */
package dev.lengthwise.logic.map;

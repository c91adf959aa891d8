/**
 * From a table to a network of LUTs: the door for users who map functions of their own.
 *
 * <p>Start at {@link dev.lengthwise.logic.map.LutMapper}: its {@code Starts} are made by {@code
 * logic.decompose} and {@code logic.gates}, its {@code Race} lets the best walk by {@code
 * logic.rewrite} and keeps the best in {@code logic.network}'s order, and {@code logic.proof}
 * proves the result. {@code work.TimedSearch} repeats both until a time is over. {@link
 * dev.lengthwise.logic.map.MapperSettings} says what is mapped for.
 */
package dev.lengthwise.logic.map;

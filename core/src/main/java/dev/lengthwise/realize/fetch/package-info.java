/**
 * The blocks of a cache and the top of a fetch unit: called by {@code Realizer} with a {@code
 * FetchUnit} and the circuit of its row.
 *
 * <p>Start at {@link dev.lengthwise.realize.fetch.FetchTop}; {@link
 * dev.lengthwise.realize.fetch.CacheCore} is the cache inside it.
 */
package dev.lengthwise.realize.fetch;

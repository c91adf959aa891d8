/**
 * The instruction cache in front of the lanes: its geometry, the choices of its design, how its
 * arrays fit a device's RAM, a fast software model, and the fetch unit that it makes with the
 * lanes.
 *
 * <p>{@link dev.lengthwise.cache.CacheGeometry} says sizes and the parts of an address; {@link
 * dev.lengthwise.cache.InstructionCache} adds where tags are compared ({@link
 * dev.lengthwise.cache.TagPlace}), which line leaves ({@link dev.lengthwise.cache.Replacement}) and
 * where lanes look at the bytes ({@link dev.lengthwise.cache.PredecodePlace}). {@link
 * dev.lengthwise.cache.RamFit} accounts for the RAM of one on a device; {@link
 * dev.lengthwise.cache.CacheModel} counts its hits, misses and evictions.
 *
 * <p>{@link dev.lengthwise.cache.FetchUnit} puts a row of lanes behind a cache and says what both
 * do in every cycle; {@link dev.lengthwise.cache.FetchClock} is its golden function.
 *
 * <p>Builders reject a bad value at once; {@code build()} reports every bad combination. Words are
 * those of any text on caches: line, set, way, tag, index, offset.
 */
package dev.lengthwise.cache;

package dev.lengthwise.cache;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.table.DescriptionException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;

/**
 * An instruction cache: its geometry and the choices of its design.
 *
 * <p>Immutable; equal when the parts are equal.
 *
 * @param name the block's name in the RTL
 * @param geometry the sizes
 * @param tags where the tags are kept
 * @param replacement which line leaves
 * @param predecode where the lanes look at the bytes
 */
public record InstructionCache(
    String name,
    CacheGeometry geometry,
    TagPlace tags,
    Replacement replacement,
    PredecodePlace predecode) {

  /**
   * Checks that the parts fit each other.
   *
   * @param name see InstructionCache
   * @param geometry see InstructionCache
   * @param tags see InstructionCache
   * @param replacement see InstructionCache
   * @param predecode see InstructionCache
   * @throws IllegalArgumentException if the name is not legal
   * @throws DescriptionException if parts contradict each other
   */
  public InstructionCache {
    HdlName.require("cache", name);
    Objects.requireNonNull(geometry, "geometry");
    Objects.requireNonNull(tags, "tags");
    Objects.requireNonNull(replacement, "replacement");
    Objects.requireNonNull(predecode, "predecode");
    List<String> faults = new ArrayList<>();
    if (!replacement.fits(geometry.ways())) {
      faults.add(
          String.format(
              Locale.ROOT,
              "cache %s: the ways under %s must be a power of two, found %d",
              name,
              replacement.label(),
              geometry.ways()));
    }
    DescriptionException.throwIfAny(faults);
  }

  /**
   * Starts a cache with tags in block RAM, LRU and lanes behind the way multiplexer.
   *
   * @param name a legal name
   * @param geometry the sizes
   * @return a builder
   * @throws IllegalArgumentException if the name is not legal
   */
  public static Builder named(String name, CacheGeometry geometry) {
    return new Builder(
        HdlName.require("cache", name), Objects.requireNonNull(geometry, "geometry"));
  }

  /**
   * Starts a copy; what is not given again stays as it is.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /**
   * Returns the replacement state of all sets.
   *
   * @return bits, without the shift register of random replacement
   */
  public int replacementBits() {
    return geometry.sets() * replacement.stateBits(geometry.ways());
  }

  /** Collects the parts of a cache. */
  public static final class Builder {

    private final String name;
    private final CacheGeometry geometry;
    private final Map<String, Object> given = new LinkedHashMap<>();
    private final Map<String, Object> kept = new LinkedHashMap<>();

    private Builder(String name, CacheGeometry geometry) {
      this.name = name;
      this.geometry = geometry;
    }

    private Builder(InstructionCache cache) {
      this(cache.name, cache.geometry);
      kept.put("the place of tags", cache.tags);
      kept.put("replacement", cache.replacement);
      kept.put("the place of pre-decode", cache.predecode);
    }

    /**
     * Sets where the tags are kept.
     *
     * @param place the place
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder tags(TagPlace place) {
      return give("the place of tags", place);
    }

    /**
     * Sets which line leaves.
     *
     * @param replacement the choice
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder replacement(Replacement replacement) {
      return give("replacement", replacement);
    }

    /**
     * Sets where the lanes look at the bytes.
     *
     * @param place the place
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder predecode(PredecodePlace place) {
      return give("the place of pre-decode", place);
    }

    /**
     * Builds the cache.
     *
     * @return the cache
     * @throws DescriptionException if parts contradict each other
     */
    public InstructionCache build() {
      Map<String, Object> set = new LinkedHashMap<>(kept);
      set.putAll(given);
      return new InstructionCache(
          name,
          geometry,
          (TagPlace) set.getOrDefault("the place of tags", TagPlace.BLOCK_RAM),
          (Replacement) set.getOrDefault("replacement", Replacement.LRU),
          (PredecodePlace) set.getOrDefault("the place of pre-decode", PredecodePlace.inline()));
    }

    private Builder give(String what, Object value) {
      Object before = given.putIfAbsent(what, Objects.requireNonNull(value, what));
      if (before != null) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "cache %s: %s is given once, found %s after %s",
                name,
                what,
                value,
                before));
      }
      return this;
    }
  }
}

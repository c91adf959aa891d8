package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The prefixes of an instruction set: code units before the opcode, with an effect on modes or
 * none.
 *
 * <p>Effects apply in the order of the prefixes. A flip gives a mode the opposite of the value it
 * had before the first prefix, so repeating the prefix changes nothing; that is how manuals define
 * size overrides.
 *
 * @param prefixes the prefixes by code, ascending
 * @param most the most prefixes that may stand before an opcode, in [0, {@value Row#LONGEST}]
 */
public record PrefixRules(SortedMap<Integer, Prefix> prefixes, int most) {

  /** No prefixes. */
  public static final PrefixRules NONE = builder().build();

  /**
   * Copies the map and checks the parts.
   *
   * @param prefixes see PrefixRules
   * @param most see PrefixRules
   * @throws IllegalArgumentException if {@code most} is out of range or a prefix stands under
   *     another's code
   */
  public PrefixRules {
    // Not by the map's own order: codes ascend.
    TreeMap<Integer, Prefix> byCode = new TreeMap<>();
    prefixes.forEach(byCode::put);
    byCode.forEach(
        (code, prefix) -> {
          if (prefix.code() != code) {
            throw new IllegalArgumentException(
                String.format(
                    Locale.ROOT,
                    "prefix 0x%02x: a prefix must stand under its code, found it under 0x%02x",
                    prefix.code(),
                    code));
          }
        });
    prefixes = Collections.unmodifiableSortedMap(byCode);
    checkMost(most);
  }

  private static int checkMost(int count) {
    if (count < 0 || count > Row.LONGEST) {
      throw new IllegalArgumentException(
          "prefixes: the most allowed must be in [0, " + Row.LONGEST + "], found " + count);
    }
    return count;
  }

  private static void checkCode(int code) {
    if (code < 0 || code > 0xffff) {
      throw new IllegalArgumentException(
          String.format(Locale.ROOT, "prefix: a code must be in [0x00, 0xffff], found 0x%x", code));
    }
  }

  /** What a prefix does to a mode. */
  public enum Effect {
    /** The mode becomes the opposite of its value before the first prefix. */
    FLIP,
    /** The mode becomes 1. */
    SET,
    /** The mode becomes 0. */
    CLEAR
  }

  /**
   * One prefix.
   *
   * @param code the code unit
   * @param effects mode name to effect, in the order of the names; empty for an inert prefix
   */
  public record Prefix(int code, SortedMap<String, Effect> effects) {

    /**
     * Copies the map and checks the parts.
     *
     * @param code see Prefix
     * @param effects see Prefix
     * @throws IllegalArgumentException if the code is out of range or a mode's name not legal
     */
    public Prefix {
      checkCode(code);
      TreeMap<String, Effect> byName = new TreeMap<>();
      effects.forEach(
          (mode, effect) ->
              byName.put(HdlName.require("mode", mode), Objects.requireNonNull(effect, "effect")));
      effects = Collections.unmodifiableSortedMap(byName);
    }

    /**
     * Returns the modes after this prefix.
     *
     * @param modeNames the modes in the order of the bits
     * @param initial the modes before the first prefix
     * @param modes the modes before this prefix
     * @return the modes after it
     * @throws IllegalArgumentException if the prefix has an effect on a mode that is not in the
     *     list
     */
    public int apply(List<String> modeNames, int initial, int modes) {
      int result = modes;
      for (var entry : effects.entrySet()) {
        int index = modeNames.indexOf(entry.getKey());
        if (index < 0) {
          throw new IllegalArgumentException(
              String.format(
                  Locale.ROOT,
                  "prefix 0x%02x: a mode must be one of %s, found %s",
                  code,
                  modeNames,
                  entry.getKey()));
        }
        int bit = 1 << index;
        result =
            switch (entry.getValue()) {
              case FLIP -> result & ~bit | ~initial & bit;
              case SET -> result | bit;
              case CLEAR -> result & ~bit;
            };
      }
      return result;
    }
  }

  /**
   * Returns the prefix with a code.
   *
   * @param code a code unit
   * @return the prefix, or empty if the code is none
   */
  public Optional<Prefix> prefix(int code) {
    return Optional.ofNullable(prefixes.get(code));
  }

  /**
   * Starts a set of rules.
   *
   * @return a builder
   */
  public static Builder builder() {
    return new Builder();
  }

  /**
   * Starts a copy; prefixes and effects are added.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /** Collects prefixes. */
  public static final class Builder {

    private final SortedMap<Integer, SortedMap<String, Effect>> effects = new TreeMap<>();
    private int most = Row.LONGEST;

    private Builder() {}

    private Builder(PrefixRules rules) {
      rules.prefixes.forEach((code, prefix) -> effects.put(code, new TreeMap<>(prefix.effects())));
      most = rules.most;
    }

    /**
     * Adds a prefix, or a further effect of one, that flips a mode.
     *
     * @param code the code unit, in [0, 0xffff]
     * @param mode the mode's name
     * @return this builder
     * @throws IllegalArgumentException if the code is out of range, the name illegal, or the prefix
     *     has an effect on the mode already
     */
    public Builder flips(int code, String mode) {
      return effect(code, mode, Effect.FLIP);
    }

    /**
     * Adds a prefix, or a further effect of one, that sets a mode to 1.
     *
     * @param code the code unit, in [0, 0xffff]
     * @param mode the mode's name
     * @return this builder
     * @throws IllegalArgumentException as {@link #flips}
     */
    public Builder sets(int code, String mode) {
      return effect(code, mode, Effect.SET);
    }

    /**
     * Adds a prefix, or a further effect of one, that clears a mode to 0.
     *
     * @param code the code unit, in [0, 0xffff]
     * @param mode the mode's name
     * @return this builder
     * @throws IllegalArgumentException as {@link #flips}
     */
    public Builder clears(int code, String mode) {
      return effect(code, mode, Effect.CLEAR);
    }

    /**
     * Adds prefixes that have no effect on modes.
     *
     * @param codes the code units, each in [0, 0xffff]
     * @return this builder
     * @throws IllegalArgumentException if a code is out of range or a prefix already
     */
    public Builder inert(int... codes) {
      for (int code : codes) {
        checkCode(code);
        if (effects.putIfAbsent(code, new TreeMap<>()) != null) {
          throw new IllegalArgumentException(
              String.format(
                  Locale.ROOT, "prefix 0x%02x: a prefix is given once, found it again", code));
        }
      }
      return this;
    }

    /**
     * Limits how many prefixes may stand before an opcode; only the longest instruction limits them
     * if this is not called.
     *
     * @param count in [0, {@value Row#LONGEST}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     */
    public Builder most(int count) {
      most = checkMost(count);
      return this;
    }

    private Builder effect(int code, String mode, Effect effect) {
      checkCode(code);
      HdlName.require("mode", mode);
      Effect before = effects.computeIfAbsent(code, c -> new TreeMap<>()).putIfAbsent(mode, effect);
      if (before != null) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "prefix 0x%02x: a prefix has one effect on a mode, found a second on %s",
                code,
                mode));
      }
      return this;
    }

    /**
     * Builds the rules.
     *
     * @return the rules
     */
    public PrefixRules build() {
      SortedMap<Integer, Prefix> prefixes = new TreeMap<>();
      effects.forEach((code, modes) -> prefixes.put(code, new Prefix(code, modes)));
      return new PrefixRules(prefixes, most);
    }
  }
}

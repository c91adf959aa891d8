package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;

/**
 * Values that some modes must have; the others may have any.
 *
 * <p>{@link #ALWAYS} asks for nothing. {@code on("wide").and(off("far"))} asks for two.
 */
public final class ModeCondition {

  /** The condition that always holds. */
  public static final ModeCondition ALWAYS = new ModeCondition(new TreeMap<>());

  private final SortedMap<String, Boolean> required;

  private ModeCondition(SortedMap<String, Boolean> required) {
    this.required = Collections.unmodifiableSortedMap(required);
  }

  /**
   * Returns the condition that a mode is 1.
   *
   * @param mode the mode's name
   * @return the condition
   * @throws IllegalArgumentException if the name is not legal
   */
  public static ModeCondition on(String mode) {
    return of(mode, true);
  }

  /**
   * Returns the condition that a mode is 0.
   *
   * @param mode the mode's name
   * @return the condition
   * @throws IllegalArgumentException if the name is not legal
   */
  public static ModeCondition off(String mode) {
    return of(mode, false);
  }

  private static ModeCondition of(String mode, boolean value) {
    return new ModeCondition(new TreeMap<>(Map.of(HdlName.require("mode", mode), value)));
  }

  /**
   * Returns the condition that holds where both this and another one hold.
   *
   * @param other the further condition
   * @return the conjunction
   * @throws IllegalStateException if the two ask for different values of a mode
   */
  public ModeCondition and(ModeCondition other) {
    SortedMap<String, Boolean> both = new TreeMap<>(required);
    other.required.forEach(
        (mode, value) -> {
          Boolean before = both.put(mode, value);
          if (before != null && !before.equals(value)) {
            throw new IllegalStateException(
                "mode condition: a mode cannot be both 0 and 1, found " + mode);
          }
        });
    return new ModeCondition(both);
  }

  /**
   * Returns the modes that are asked about, in the order of their names.
   *
   * @return mode name to required value
   */
  public SortedMap<String, Boolean> required() {
    return required;
  }

  /** Tells whether both conditions can hold at once. */
  boolean isCompatibleWith(ModeCondition other) {
    return required.entrySet().stream()
        .allMatch(
            entry ->
                other
                    .required
                    .getOrDefault(entry.getKey(), entry.getValue())
                    .equals(entry.getValue()));
  }

  /**
   * Tells whether the condition holds.
   *
   * @param modeNames the modes in the order of the bits
   * @param modes mode i is bit i
   * @return true if each required mode is in the list and has the required value
   */
  public boolean holds(List<String> modeNames, int modes) {
    for (Map.Entry<String, Boolean> entry : required.entrySet()) {
      int bit = modeNames.indexOf(entry.getKey());
      if (bit < 0 || (modes >> bit & 1) != (entry.getValue() ? 1 : 0)) {
        return false;
      }
    }
    return true;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof ModeCondition that && required.equals(that.required);
  }

  @Override
  public int hashCode() {
    return Objects.hash(required);
  }

  /** Returns the condition in words, for instance {@code wide=1 far=0}, or {@code always}. */
  @Override
  public String toString() {
    return required.isEmpty()
        ? "always"
        : required.entrySet().stream()
            .map(entry -> entry.getKey() + '=' + (entry.getValue() ? 1 : 0))
            .collect(Collectors.joining(" "));
  }
}

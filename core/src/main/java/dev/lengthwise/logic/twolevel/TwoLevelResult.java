package dev.lengthwise.logic.twolevel;

import java.util.Objects;

/**
 * A minimised cover and what is known about it.
 *
 * @param cover the cover; it agrees with the tables at every point that matters
 * @param lowerBound a number of product terms that no cover can be below
 * @param fewestLiterals whether no cover of as many terms has fewer input literals, as far as that
 *     was proved
 */
public record TwoLevelResult(Cover cover, int lowerBound, boolean fewestLiterals) {

  /**
   * Checks the fields.
   *
   * @param cover the cover; it agrees with the tables at every point that matters
   * @param lowerBound a number of product terms that no cover can be below
   * @param fewestLiterals whether no cover of as many terms has fewer input literals, as far as
   *     that was proved
   * @throws IllegalArgumentException if the bound is negative or above the number of terms
   */
  public TwoLevelResult {
    Objects.requireNonNull(cover, "cover");
    if (lowerBound < 0 || lowerBound > cover.terms()) {
      throw new IllegalArgumentException(
          "two-level result: the bound must be in [0, " + cover.terms() + "], found " + lowerBound);
    }
  }

  /**
   * Returns the number of product terms.
   *
   * @return at least 0
   */
  public int terms() {
    return cover.terms();
  }

  /**
   * Tells whether the number of terms is proved least.
   *
   * @return true if the bound is reached
   */
  public boolean proved() {
    return lowerBound == cover.terms();
  }
}

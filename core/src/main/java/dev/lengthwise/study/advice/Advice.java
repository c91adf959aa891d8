package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.study.accuracy.Accuracy;
import java.util.Objects;

/**
 * The variant that a search found.
 *
 * @param design the variant, realised in the style asked for, ready to be written
 * @param cost its estimated cost, in that style
 * @param accuracy its accuracy on the stream that was searched on
 * @param expectedShare the share of unseen code like the stream that it is expected to be exact
 *     for, in [0, 1]; {@link Advisor} says how
 * @param estimated the lanes whose cost was estimated for the search
 * @param realized the lanes that were realised in the style asked for
 */
public record Advice(
    Design design,
    BlockCost cost,
    Accuracy accuracy,
    double expectedShare,
    int estimated,
    int realized) {

  /**
   * Checks for null.
   *
   * @param design see Advice
   * @param cost see Advice
   * @param accuracy see Advice
   * @param expectedShare see Advice
   * @param estimated see Advice
   * @param realized see Advice
   */
  public Advice {
    Objects.requireNonNull(design, "design");
    Objects.requireNonNull(cost, "cost");
    Objects.requireNonNull(accuracy, "accuracy");
  }

  /**
   * Returns the variant.
   *
   * @return what the lane handles
   */
  public Predecoder lane() {
    return design.lane();
  }
}

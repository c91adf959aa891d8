package dev.lengthwise.predecode;

import dev.lengthwise.table.Row;
import java.util.Objects;

/**
 * What a lane does with a prefix.
 *
 * @param kind the treatment
 * @param most for {@link Kind#FOLDED}, the most prefixes the lane looks through, in [1, {@value
 *     Row#LONGEST}]; otherwise 0
 */
public record PrefixTreatment(Kind kind, int most) {

  /** A prefix is an item of its own, one code unit long; its effect reaches the lane as modes. */
  public static final PrefixTreatment ONE_UNIT_EACH = new PrefixTreatment(Kind.ONE_UNIT_EACH, 0);

  /** A lane that meets a prefix says "not handled". */
  public static final PrefixTreatment NOT_HANDLED = new PrefixTreatment(Kind.NOT_HANDLED, 0);

  /** The kinds of treatment. */
  public enum Kind {
    /** A prefix is an item of its own. */
    ONE_UNIT_EACH,
    /** The lane says "not handled". */
    NOT_HANDLED,
    /** The lane looks through prefixes and counts them into the length. */
    FOLDED
  }

  /**
   * Checks the range.
   *
   * @param kind see PrefixTreatment
   * @param most see PrefixTreatment
   * @throws IllegalArgumentException if {@code most} does not fit the kind
   */
  public PrefixTreatment {
    Objects.requireNonNull(kind, "kind");
    boolean fits = kind == Kind.FOLDED ? most >= 1 && most <= Row.LONGEST : most == 0;
    if (!fits) {
      throw new IllegalArgumentException(
          "prefix treatment "
              + kind
              + ": folded prefixes must be in [1, "
              + Row.LONGEST
              + "], others 0, found "
              + most);
    }
  }

  /**
   * Returns the treatment by which a lane looks through prefixes.
   *
   * @param most the most prefixes before an opcode, in [1, {@value Row#LONGEST}]; more are not
   *     handled
   * @return the treatment
   * @throws IllegalArgumentException if out of range
   */
  public static PrefixTreatment folded(int most) {
    return new PrefixTreatment(Kind.FOLDED, most);
  }
}

package dev.lengthwise.logic.bank;

import java.util.Objects;

/**
 * Where one output takes its value from while one bank is selected.
 *
 * @param kind what the source is
 * @param index the input for {@link Kind#INPUT} and {@link Kind#INVERTED_INPUT}, the group's place
 *     in the list for {@link Kind#GROUP}, else 0
 */
public record BankSource(Kind kind, int index) {

  /** What a source is. */
  public enum Kind {
    /** No point of the bank matters. */
    FREE,
    /** The constant 0. */
    ZERO,
    /** The constant 1. */
    ONE,
    /** One input, folded into the selecting multiplexer. */
    INPUT,
    /** The inverse of one input, folded into the selecting multiplexer. */
    INVERTED_INPUT,
    /** The LUT of a group of banks. */
    GROUP
  }

  /**
   * Checks the kind.
   *
   * @param kind what the source is
   * @param index the input for {@link Kind#INPUT} and {@link Kind#INVERTED_INPUT}, the group's
   *     place in the list for {@link Kind#GROUP}, else 0
   */
  public BankSource {
    Objects.requireNonNull(kind, "kind");
  }
}

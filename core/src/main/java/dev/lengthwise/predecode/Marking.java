package dev.lengthwise.predecode;

import java.util.Objects;

/** What a lane array says of the instructions in its window. */
public sealed interface Marking {

  /**
   * Does something with each kind of marking. Whatever has to handle all kinds implements this, so
   * that it does not compile where a new kind is forgotten.
   *
   * @param <R> what comes out
   */
  interface Visitor<R> {

    /**
     * Visits a marking of start bits.
     *
     * @param marking the marking
     * @return what comes out
     */
    R full(Full marking);

    /**
     * Visits a marking of the first instructions.
     *
     * @param marking the marking
     * @return what comes out
     */
    R first(First marking);
  }

  /** How the chain of lengths is followed. */
  enum Form {
    /** Byte after byte: the fewest LUTs, a path as long as the window. */
    RIPPLE,
    /** Stretches of bytes joined to longer ones: more LUTs, a path as the window's logarithm. */
    LOGARITHMIC
  }

  /**
   * A start bit for each byte of the window.
   *
   * @param form how the starts are found; the answer is the same
   */
  record Full(Form form) implements Marking {

    /**
     * Checks that there is a form.
     *
     * @param form see Full
     */
    public Full {
      Objects.requireNonNull(form, "form");
    }

    @Override
    public String label() {
      return form == Form.RIPPLE ? "full_ripple" : "full_logarithmic";
    }

    @Override
    public int mostItems(int windowBytes) {
      return windowBytes;
    }

    @Override
    public boolean isOfferedAgain() {
      return false;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.full(this);
    }
  }

  /**
   * Positions and lengths of the first instructions, for a decoder that takes so many a cycle. A
   * window with more of them is offered again.
   *
   * @param count instructions, in [1, {@value #MOST}]
   */
  record First(int count) implements Marking {

    /** The most instructions a cycle. */
    public static final int MOST = 8;

    /**
     * Checks the range.
     *
     * @param count see First
     * @throws IllegalArgumentException if out of range
     */
    public First {
      if (count < 1 || count > MOST) {
        throw new IllegalArgumentException(
            "marking: the first instructions must be in [1, " + MOST + "], found " + count);
      }
    }

    @Override
    public String label() {
      return "first_" + count;
    }

    @Override
    public int mostItems(int windowBytes) {
      return count;
    }

    @Override
    public boolean isOfferedAgain() {
      return true;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.first(this);
    }
  }

  /**
   * Returns the marking of start bits, found byte after byte.
   *
   * @return the marking
   */
  static Marking fullRipple() {
    return new Full(Form.RIPPLE);
  }

  /**
   * Returns the marking of start bits, found in logarithmic depth.
   *
   * @return the marking
   */
  static Marking fullLogarithmic() {
    return new Full(Form.LOGARITHMIC);
  }

  /**
   * Returns the marking of the first instructions.
   *
   * @param count instructions, in [1, {@value First#MOST}]
   * @return the marking
   * @throws IllegalArgumentException if out of range
   */
  static Marking first(int count) {
    return new First(count);
  }

  /**
   * Returns the marking's name in tables and emitted heads.
   *
   * @return lower snake case
   */
  String label();

  /**
   * Returns how many items of a window are marked in a cycle at most.
   *
   * @param windowBytes bytes of the window
   * @return items, at least 1
   */
  int mostItems(int windowBytes);

  /**
   * Tells whether a window with more items is offered again.
   *
   * @return false if all items of a window are marked at once
   */
  boolean isOfferedAgain();

  /**
   * Calls the method of the visitor that is for this kind.
   *
   * @param visitor does something with each kind
   * @param <R> what comes out
   * @return what comes out of it
   */
  <R> R accept(Visitor<R> visitor);
}

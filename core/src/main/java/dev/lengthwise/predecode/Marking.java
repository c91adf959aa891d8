package dev.lengthwise.predecode;

import java.util.Locale;
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

    /**
     * Visits a marking of start bits by entry.
     *
     * @param marking the marking
     * @return what comes out
     */
    R byEntry(ByEntry marking);
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
   * A start bit for each byte of the window, in a pipeline of short cycles. Where a window's items
   * lead is found for every state in which it may be entered, before that is known; the loop from
   * window to window is then one selection, and the start bits follow behind it. A window is taken
   * in every cycle; its marks come out cycles later, as the levels of LUTs that a cycle may have
   * ask for.
   *
   * @param levelsPerCycle the most levels of LUTs between two registers behind the lanes, in
   *     [{@value #LEAST_LEVELS}, {@value #MOST_LEVELS}]
   * @param lutInputs the inputs of the LUTs that are counted, in [{@value #LEAST_INPUTS}, {@value
   *     #MOST_INPUTS}]; a device whose LUTs have more keeps the levels too
   */
  record ByEntry(int levelsPerCycle, int lutInputs) implements Marking {

    /** The fewest levels a cycle. */
    public static final int LEAST_LEVELS = 2;

    /** The most levels a cycle. */
    public static final int MOST_LEVELS = 16;

    /** The fewest inputs of a LUT. */
    public static final int LEAST_INPUTS = 4;

    /** The most inputs of a LUT. */
    public static final int MOST_INPUTS = 6;

    /**
     * Checks the ranges.
     *
     * @param levelsPerCycle see ByEntry
     * @param lutInputs see ByEntry
     * @throws IllegalArgumentException if out of range
     */
    public ByEntry {
      require("levels a cycle", levelsPerCycle, LEAST_LEVELS, MOST_LEVELS);
      require("inputs of a LUT", lutInputs, LEAST_INPUTS, MOST_INPUTS);
    }

    private static void require(String what, int value, int least, int most) {
      if (value < least || value > most) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "marking: the %s must be in [%d, %d], found %d",
                what,
                least,
                most,
                value));
      }
    }

    @Override
    public String label() {
      return "by_entry_" + levelsPerCycle + "_levels_of_lut" + lutInputs;
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
      return visitor.byEntry(this);
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
   * Returns the marking of start bits in a pipeline, found for every entry.
   *
   * @param levelsPerCycle the most levels of LUTs between two registers, in [{@value
   *     ByEntry#LEAST_LEVELS}, {@value ByEntry#MOST_LEVELS}]
   * @param lutInputs the inputs of the LUTs that are counted, in [{@value ByEntry#LEAST_INPUTS},
   *     {@value ByEntry#MOST_INPUTS}]
   * @return the marking
   * @throws IllegalArgumentException if out of range
   */
  static Marking byEntry(int levelsPerCycle, int lutInputs) {
    return new ByEntry(levelsPerCycle, lutInputs);
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

package dev.lengthwise.golden;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * The golden function of a lane array, window by window: what a window's marks are, and the state
 * that the next window finds.
 *
 * <p>{@link #look} computes a window's answers without changing the state, {@link #accept} takes
 * over the state behind it. Nothing is allocated by either. Not safe for use by several threads.
 */
public final class ArrayModel {

  /** The redirect of a window that follows the one before. */
  public static final int NO_REDIRECT = -1;

  /** The offset of a window in which nothing is not handled. */
  public static final int NONE = -1;

  private final LaneArray array;
  private final int windowBytes;
  private final int mostItems;
  private final LaneModel[] lanes;
  private final LaneModel whole;
  private final List<String> modeNames;
  private final PrefixRules.Prefix[] prefixes;
  private final int[] positions;
  private final int[] lengths;

  private int carry;
  private int changedModes;
  private boolean waiting = true;
  private boolean known = true;

  private int count;
  private int notHandled = NONE;
  private boolean used;
  private int nextCarry;
  private int nextChangedModes;
  private boolean nextWaiting;
  private boolean nextKnown;

  private ArrayModel(LaneArray array) {
    this.array = array;
    this.windowBytes = array.windowBytes();
    this.mostItems = array.marking().mostItems(windowBytes);
    this.whole = LaneModel.of(array.lane());
    this.lanes = new LaneModel[windowBytes];
    for (int i = 0; i < windowBytes; i++) {
      lanes[i] =
          array
              .laneAt(i)
              .map(lane -> lane.equals(array.lane()) ? whole : LaneModel.of(lane))
              .orElse(null);
    }
    this.modeNames = array.lane().instructionSet().table().modes();
    this.prefixes = new PrefixRules.Prefix[array.lane().instructionSet().table().unit().codes()];
    array.itemPrefixes().forEach(prefix -> prefixes[prefix.code()] = prefix);
    this.positions = new int[mostItems];
    this.lengths = new int[mostItems];
  }

  /**
   * Compiles an array.
   *
   * @param array the array
   * @return its golden function, in the state after reset: waiting for a redirect
   */
  public static ArrayModel of(LaneArray array) {
    return new ArrayModel(Objects.requireNonNull(array, "array"));
  }

  /**
   * Returns the array.
   *
   * @return the array
   */
  public LaneArray array() {
    return array;
  }

  /** Takes the state after reset. */
  public void reset() {
    carry = 0;
    changedModes = 0;
    waiting = true;
    known = true;
  }

  /**
   * Computes the answers to a window and takes over the state behind it.
   *
   * @param modes as {@link #look}
   * @param memory as {@link #look}
   * @param offset as {@link #look}
   * @param redirect as {@link #look}
   * @throws IllegalArgumentException as {@link #look}
   * @throws IndexOutOfBoundsException as {@link #look}
   */
  public void step(int modes, byte[] memory, int offset, int redirect) {
    look(modes, memory, offset, redirect);
    accept();
  }

  /**
   * Computes the answers to a window.
   *
   * @param modes the modes before any prefix; mode i is bit i
   * @param memory the bytes; those past its end read as 0
   * @param offset where the window's first byte is, at least 0; {@link LaneArray#nextBytes()} bytes
   *     behind the window are read too
   * @param redirect where the first instruction starts, in [0, windowBytes), or {@link
   *     #NO_REDIRECT} if the state says so
   * @throws IllegalArgumentException if there is no such mode or the redirect is out of range
   * @throws IndexOutOfBoundsException if the offset is negative
   */
  public void look(int modes, byte[] memory, int offset, int redirect) {
    check(modes, offset, redirect);
    boolean follows = redirect == NO_REDIRECT;
    nextWaiting = follows && waiting;
    nextKnown = !follows || known;
    notHandled = NONE;
    count = 0;
    int at = follows ? carry : redirect;
    int current = follows ? modes ^ changedModes : modes;
    while (!nextWaiting && nextKnown && at < windowBytes && count < mostItems) {
      int length =
          lanes[at] == null ? LaneModel.NOT_HANDLED : lanes[at].said(current, memory, offset + at);
      if (length == LaneModel.NOT_HANDLED) {
        nextWaiting = true;
        notHandled = at;
      } else if (length == LaneModel.ANYTHING) {
        nextKnown = false;
      } else {
        positions[count] = at;
        lengths[count++] = length;
        current = behind(memory, offset + at, modes, current);
        at += length;
      }
    }
    used = nextWaiting || !nextKnown || at >= windowBytes;
    nextCarry = nextWaiting ? 0 : at >= windowBytes ? at - windowBytes : at;
    nextChangedModes = nextWaiting ? 0 : current ^ modes;
  }

  private int check(int index) {
    if (index < 0 || index >= count) {
      throw new IndexOutOfBoundsException(
          String.format(
              Locale.ROOT,
              "row %s: an item must be in [0, %d), found %d",
              array.name(),
              count,
              index));
    }
    return index;
  }

  /** Checks the inputs of a window. */
  void check(int modes, int offset, int redirect) {
    array.lane().instructionSet().table().requireModes(modes);
    if (redirect < NO_REDIRECT || redirect >= windowBytes) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "row %s: a redirect must be in [0, %d) or NO_REDIRECT, found %d",
              array.name(),
              windowBytes,
              redirect));
    }
    if (offset < 0) {
      throw new IndexOutOfBoundsException(
          "row " + array.name() + ": an offset must be at least 0, found " + offset);
    }
  }

  /** Returns the modes behind an item that a lane handles. */
  private int behind(byte[] memory, int offset, int modes, int current) {
    PrefixRules.Prefix prefix = prefixes[whole.unitAt(memory, offset)];
    return prefix == null ? modes : prefix.apply(modeNames, modes, current);
  }

  /** Takes over the state behind the window looked at last. */
  public void accept() {
    carry = nextCarry;
    changedModes = nextChangedModes;
    waiting = nextWaiting;
    known = nextKnown;
  }

  /**
   * Tells whether the answers to the window looked at last are fixed.
   *
   * @return false from an item on whose lane may say anything, until a redirect
   */
  public boolean isKnown() {
    return nextKnown;
  }

  /**
   * Tells whether the state that the next window finds is fixed.
   *
   * @return false behind an item whose lane may say anything, until a redirect
   */
  public boolean isStateKnown() {
    return known;
  }

  /**
   * Returns the start bits.
   *
   * @return bit i is 1 if an item starts at byte i, the one that is not handled included
   */
  public int starts() {
    int starts = notHandled == NONE ? 0 : 1 << notHandled;
    for (int i = 0; i < count; i++) {
      starts |= 1 << positions[i];
    }
    return starts;
  }

  /**
   * Returns the number of items that were given a length.
   *
   * @return at most that of the marking
   */
  public int count() {
    return count;
  }

  /**
   * Returns where an item starts.
   *
   * @param index in [0, {@link #count()})
   * @return an offset in the window
   * @throws IndexOutOfBoundsException if out of range
   */
  public int position(int index) {
    return positions[check(index)];
  }

  /**
   * Returns the length of an item.
   *
   * @param index in [0, {@link #count()})
   * @return bytes, at least 1
   * @throws IndexOutOfBoundsException if out of range
   */
  public int length(int index) {
    return lengths[check(index)];
  }

  /**
   * Returns where the first item starts that is not handled.
   *
   * @return an offset in the window, or {@link #NONE}
   */
  public int notHandled() {
    return notHandled;
  }

  /**
   * Tells whether the row is done with the window.
   *
   * @return false if more items start in it than the marking takes, so that it is offered again
   */
  public boolean isUsed() {
    return used;
  }

  /**
   * Returns the carry that the next window finds.
   *
   * @return bytes from its first byte on; it may be past its end; 0 while waiting
   */
  public int carry() {
    return carry;
  }

  /**
   * Returns the late modes that a prefix before the next window's first start has changed.
   *
   * @return a one for each; 0 while waiting
   */
  public int changedModes() {
    return changedModes;
  }

  /**
   * Tells whether the next window needs a redirect.
   *
   * @return true after reset and from a start on that is not handled
   */
  public boolean isWaiting() {
    return waiting;
  }
}

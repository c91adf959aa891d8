package dev.lengthwise.testbench.vector;

import dev.lengthwise.predecode.ArrayClock;
import dev.lengthwise.predecode.LaneArray;
import java.util.BitSet;
import java.util.Locale;

/** What the vectors of a row of lanes cover. */
public final class ArrayCoverage {

  private int windows;
  private int redirects;
  private int stalls;
  private int notHandled;
  private int again;
  private long items;
  private final BitSet carries;

  ArrayCoverage(LaneArray array) {
    this.carries = new BitSet(1 << array.carryBits());
  }

  void add(ArrayClock clock, ArrayClock.Marks marks, ArrayStimulus in) {
    boolean taken = in.valid() && clock.isReady();
    windows += taken ? 1 : 0;
    redirects += in.valid() && !in.stall() && in.redirect() >= 0 ? 1 : 0;
    stalls += in.stall() ? 1 : 0;
    again += in.valid() && !in.stall() && !taken ? 1 : 0;
    if (marks.isValid() && marks.isKnown() && !in.stall()) {
      notHandled += marks.notHandled() >= 0 ? 1 : 0;
      items += marks.count();
    }
    if (clock.isStateKnown() && !clock.isWaiting()) {
      carries.set(clock.carry());
    }
  }

  /**
   * Returns the windows taken.
   *
   * @return windows
   */
  public int windows() {
    return windows;
  }

  /**
   * Returns the cycles with a redirect.
   *
   * @return cycles
   */
  public int redirects() {
    return redirects;
  }

  /**
   * Returns the cycles stalled.
   *
   * @return cycles
   */
  public int stalls() {
    return stalls;
  }

  /**
   * Returns the windows with a start that is not handled.
   *
   * @return windows
   */
  public int notHandled() {
    return notHandled;
  }

  /**
   * Returns the cycles after which the window was offered again.
   *
   * @return cycles
   */
  public int again() {
    return again;
  }

  /**
   * Returns the items marked with a length.
   *
   * @return items
   */
  public long items() {
    return items;
  }

  /**
   * Returns the values of the carry that were met.
   *
   * @return a copy; bit i stands for carry i
   */
  public BitSet carries() {
    return (BitSet) carries.clone();
  }

  /** Returns a line of text for reports. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d windows, %d items, %d redirects, %d stalls, %d not handled, %d offered again, carries"
            + " %s",
        windows,
        items,
        redirects,
        stalls,
        notHandled,
        again,
        carries);
  }
}

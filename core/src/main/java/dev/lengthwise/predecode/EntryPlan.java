package dev.lengthwise.predecode;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Which cycle of a row with {@linkplain Marking.ByEntry marks by entry} does what, and how many
 * levels of LUTs each step takes.
 *
 * <p>An <em>entry state</em> is where a window's first item starts and which late modes a prefix
 * before it has changed. A prefix is one code unit long, so changed modes stand only at starts
 * nearer than a code unit. Of one late mode and code units of a byte, "changed, at byte 0" shares
 * its state with the farthest start: the one stands only behind a prefix and the other only behind
 * something else, so that the byte before tells them apart. "No item starts before a redirect" is
 * no state: its code is 0, which selects nothing.
 *
 * <p>Cycle 0 is that in which a window is at the inputs; a step's inputs are registers of its cycle
 * or steps before it in the same cycle. Steps: the lanes (cycle 0); choosing each lane's answer for
 * each entry (none without late modes); its code, behind which registers always stand; the joins of
 * stretches of bytes side by side, until one is the window, behind which registers always stand;
 * the loop, which selects the next entry; once or more the selection of what follows from the
 * registered entry; the mask of bytes before a redirect's offset; and the steps that find the last
 * start. Levels are by structure and for one size of LUT; that the logic keeps them is measured by
 * the tests of this library.
 *
 * <p>Immutable.
 */
public final class EntryPlan {

  /** The longest stretch that says its start bits for every entry. */
  public static final int MOST_WITH_STARTS = 8;

  /** The most entry states of a row. */
  public static final int MOST_STATES = 64;

  private final int longest;
  private final int unitBytes;
  private final int lateModes;
  private final int lutInputs;
  private final boolean shares;
  private final int states;
  private final int chooseLevels;
  private final int codeLevels;
  private final int loopLevels;
  private final int levelsPerCycle;
  private final int chooseCycle;
  private final int codeCycle;
  private final int[] joinCycles;
  private final int[] selectCycles;
  private final int maskCycle;
  private final int[] locateCycles;

  EntryPlan(Predecoder lane, int windowBytes, Marking.ByEntry marking) {
    this.longest = lane.longest();
    this.unitBytes = lane.instructionSet().table().unit().bytes();
    this.lateModes = Integer.bitCount(LaneArray.lateModes(lane));
    this.lutInputs = marking.lutInputs();
    this.levelsPerCycle = marking.levelsPerCycle();
    this.shares = lateModes == 1 && unitBytes == 1 && longest > 1;
    int changed = unitBytes * ((1 << lateModes) - 1);
    this.states = longest + (shares || longest < unitBytes ? 0 : changed);
    this.chooseLevels = chooseLevels(lane);
    this.codeLevels = codeLevels(lane.lengthBits());
    this.loopLevels = isHalfDecoded() ? 1 + digits(lutInputs, pairs()) : (codeBits() + 1) / 2;
    Cycles cycles = new Cycles(levelsPerCycle);
    this.chooseCycle = cycles.step(chooseLevels);
    this.codeCycle = cycles.step(codeLevels);
    cycles.cut();
    this.joinCycles = new int[digits(2, windowBytes)];
    for (int i = 0; i < joinCycles.length; i++) {
      joinCycles[i] = cycles.step(loopLevels);
    }
    cycles.cut(); // the loop has a cycle of its own
    cycles.cut();
    int depth = Math.max(0, digits(2, windowBytes) - digits(2, MOST_WITH_STARTS));
    this.selectCycles = new int[1 + depth];
    for (int i = 0; i <= depth; i++) {
      selectCycles[i] = cycles.step(loopLevels);
    }
    cycles.cut();
    this.maskCycle = cycles.step(Math.max(1, decodeLevels()));
    this.locateCycles = new int[1 + Math.max(1, digits(2, (windowBytes + 3) / 4))];
    for (int i = 0; i < locateCycles.length; i++) {
      locateCycles[i] = cycles.step(1);
    }
  }

  /** The cycles while steps are placed in them, one after the other. */
  private static final class Cycles {

    private final int levelsEach;
    private int cycle = 1;
    private int used;

    Cycles(int levelsEach) {
      this.levelsEach = levelsEach;
    }

    /** Takes levels in this cycle, or in the next if there are too few left. */
    int step(int levels) {
      if (used > 0 && used + levels > levelsEach) {
        cut();
      }
      used += levels;
      return cycle;
    }

    void cut() {
      cycle++;
      used = 0;
    }
  }

  /** Returns the least n for which base^n is no less. */
  private static int digits(int base, int value) {
    int digits = 0;
    for (long reach = 1; reach < value; reach *= base) {
      digits++;
    }
    return digits;
  }

  private int chooseLevels(Predecoder lane) {
    if (lateModes == 0) {
      return 0;
    }
    long effects =
        LaneArray.itemPrefixes(lane).stream()
            .flatMap(prefix -> prefix.effects().entrySet().stream())
            .distinct()
            .count();
    long mostOfMode = effects - (lateModes - 1);
    int words = isHalfDecoded() ? lateModes : (lateModes + 1) / 2;
    return Math.max(words, 2 + mostOfMode > lutInputs ? 2 : 1);
  }

  private int codeLevels(int lengthBits) {
    int late = lateModes + (shares ? 1 : 0);
    if (lengthBits + late <= lutInputs) {
      return 1;
    }
    return 1 + Math.max(0, lengthBits - lutInputs) + (late > 0 ? 1 : 0);
  }

  private int decodeLevels() {
    return isHalfDecoded() ? digits(lutInputs, pairs()) : codeBits() < lutInputs ? 1 : 2;
  }

  /** Returns what stands against the levels wished for. */
  List<String> faults(String subject) {
    List<String> faults = new ArrayList<>();
    if (states > MOST_STATES) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: marks by entry may have at most %d entry states, found %d",
              subject,
              MOST_STATES,
              states));
    }
    String rule = "%s: the loop of marks by entry, a selection of one of %d exits, has %d levels";
    addFault(faults, String.format(Locale.ROOT, rule, subject, states, loopLevels), loopLevels);
    rule = "%s: the choice of what a lane says, for marks by entry, has %d levels";
    addFault(faults, String.format(Locale.ROOT, rule, subject, chooseLevels), chooseLevels);
    rule = "%s: the code of what a lane says, for marks by entry, has %d levels";
    addFault(faults, String.format(Locale.ROOT, rule, subject, codeLevels), codeLevels);
    return faults;
  }

  private void addFault(List<String> faults, String rule, int levels) {
    if (levels > levelsPerCycle) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s of LUTs of %d inputs, so that a cycle must have as many, found %d",
              rule,
              lutInputs,
              levelsPerCycle));
    }
  }

  /**
   * Returns the most levels between two registers.
   *
   * @return levels of LUTs
   */
  public int levelsPerCycle() {
    return levelsPerCycle;
  }

  /**
   * Returns the number of entry states.
   *
   * @return in [1, {@value #MOST_STATES}]
   */
  public int states() {
    return states;
  }

  /**
   * Returns the number of an entry state.
   *
   * @param carry bytes from the window's first byte to the first start, in [0, longest)
   * @param changed a one for each late mode that a prefix before has changed; other than 0 only
   *     where the carry is less than a code unit
   * @return in [0, {@link #states()})
   * @throws IllegalArgumentException if there is no such state
   */
  public int state(int carry, int changed) {
    boolean isNear = carry < unitBytes && changed >>> lateModes == 0;
    if (carry < 0 || carry >= Math.max(longest, 1) || (changed != 0 && !isNear)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "entry plan: a start in [0, %d) with modes changed near it only is expected, found"
                  + " %d with %d",
              longest,
              carry,
              changed));
    }
    if (changed == 0) {
      return carry;
    }
    return shares ? longest - 1 : longest + carry * ((1 << lateModes) - 1) + changed - 1;
  }

  /**
   * Tells whether the farthest start shares its state with a changed mode at byte 0.
   *
   * @return true if the byte before the window must tell them apart
   */
  public boolean sharesFarthest() {
    return shares;
  }

  /**
   * Tells how states are coded.
   *
   * @return true for a low bit and a one for the pair of states, which LUTs of few inputs select by
   *     best; false for the state's number plus 1
   */
  public boolean isHalfDecoded() {
    return lutInputs < 6;
  }

  private int pairs() {
    return (states + 1) / 2;
  }

  /**
   * Returns the width of a coded state.
   *
   * @return bits
   */
  public int codeBits() {
    return isHalfDecoded() ? 1 + pairs() : digits(2, states + 1);
  }

  /**
   * Returns the levels from the registers of the entry back to themselves, which no register can
   * cut.
   *
   * @return levels of LUTs
   */
  public int loopLevels() {
    return loopLevels;
  }

  /**
   * Returns the cycle in which each lane's answers are chosen from by the modes before any prefix.
   *
   * @return a cycle
   */
  public int chooseCycle() {
    return chooseCycle;
  }

  /**
   * Returns the cycle in which they are coded.
   *
   * @return a cycle
   */
  public int codeCycle() {
    return codeCycle;
  }

  /**
   * Returns the cycle in which stretches are joined.
   *
   * @param height joins below, in [0, log2(bytes of the window))
   * @return a cycle
   */
  public int joinCycle(int height) {
    return joinCycles[height];
  }

  /**
   * Returns the cycle of the loop, in which exits and entry of a window are in registers.
   *
   * @return a cycle
   */
  public int loopCycle() {
    return joinCycles[joinCycles.length - 1] + 1;
  }

  /**
   * Returns the cycle in which the entries of the parts of a stretch are selected by its own, or
   * its start bits.
   *
   * @param depth stretches around it
   * @return a cycle
   */
  public int selectCycle(int depth) {
    return selectCycles[depth];
  }

  /**
   * Returns the cycle in which start bits are selected.
   *
   * @return a cycle
   */
  public int startsCycle() {
    return selectCycles[selectCycles.length - 1];
  }

  /**
   * Returns the cycle in which bytes before a redirect's offset are masked.
   *
   * @return a cycle
   */
  public int maskCycle() {
    return maskCycle;
  }

  /**
   * Returns the number of steps that find the last start.
   *
   * @return at least 2
   */
  public int locateSteps() {
    return locateCycles.length;
  }

  /**
   * Returns the cycle of such a step.
   *
   * @param index in [0, {@link #locateSteps()})
   * @return a cycle
   */
  public int locateCycle(int index) {
    return locateCycles[index];
  }

  /**
   * Returns the cycles from a window at the inputs to its marks at the outputs.
   *
   * @return at least 4
   */
  public int latency() {
    return locateCycles[locateCycles.length - 1] + 1;
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d entry states in %d bits, at most %d levels a cycle, %d in the loop, latency %d",
        states,
        codeBits(),
        levelsPerCycle,
        loopLevels,
        latency());
  }
}

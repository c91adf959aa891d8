package dev.lengthwise.predecode;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;

/**
 * A row of equal lanes over a fetch window, one for each byte, with the marks that say where
 * instructions start and the state that goes from window to window.
 *
 * <p>An <em>item</em> is what a lane gives a length: an instruction, or a prefix that is treated as
 * one unit. Items follow each other from the start that the state gives. A prefix item changes the
 * modes of the item behind it, also across windows; modes that such prefixes can change are
 * <em>late</em>: each lane says its length for every value of them, and the marks choose. The first
 * start whose lane says "not handled" stops the row until it is redirected; the slow path decides
 * there. Limits on the number of prefixes and on the length of an instruction with them are not
 * checked for prefixes that are items of their own.
 *
 * <p>State: the <em>carry</em>, bytes from the window's first byte to the first start; the late
 * modes that a prefix before it has changed; and whether the row waits for a redirect, as it does
 * after reset. A redirect comes with its window and replaces all three.
 *
 * <p>With pipeline cuts, windows taken before a redirect may still be in flight when it comes. They
 * change nothing of the marks behind it, but their own marks come out, valid, in the cycles before
 * the redirected window's: {@link #latency()} cycles from the one in which that was taken, stalls
 * not counted. Whoever redirects because the path was wrong drops them; there is no input that
 * does. A fetch unit does so itself.
 *
 * <p>With {@linkplain Marking.ByEntry marks by entry} the outputs of the state belong to the marks
 * shown beside them: they say what is behind that window. It takes {@link #latency()} cycles until
 * they show that a redirect is waited for, and windows taken meanwhile have no start.
 *
 * <p>Immutable; equal when the parts are equal.
 *
 * @param name the block's name in the RTL
 * @param lane what each byte's lane handles
 * @param windowBytes the bytes of a window, in [{@value #LEAST_WINDOW}, {@value #MOST_WINDOW}]
 * @param end what the last lanes do about the bytes behind the window
 * @param marking what is said of the instructions
 * @param cuts the pipeline cuts, in the order of the enumeration
 */
public record LaneArray(
    String name,
    Predecoder lane,
    int windowBytes,
    WindowEnd end,
    Marking marking,
    Set<PipelineCut> cuts) {

  /** The fewest bytes of a window. */
  public static final int LEAST_WINDOW = 4;

  /** The most bytes of a window. */
  public static final int MOST_WINDOW = 32;

  /** The most modes that prefixes of one unit each may change. */
  public static final int MOST_LATE_MODES = 3;

  /**
   * Copies the set and checks the parts against each other.
   *
   * @param name see LaneArray
   * @param lane see LaneArray
   * @param windowBytes see LaneArray
   * @param end see LaneArray
   * @param marking see LaneArray
   * @param cuts see LaneArray
   * @throws IllegalArgumentException if the name is not legal or the window out of range
   * @throws DescriptionException if parts contradict each other
   */
  public LaneArray {
    Objects.requireNonNull(end, "end");
    Objects.requireNonNull(marking, "marking");
    Objects.requireNonNull(cuts, "cuts");
    HdlName.require("lane array", name);
    checkWindow(lane, windowBytes);
    Objects.requireNonNull(end, "end");
    Objects.requireNonNull(marking, "marking");
    EnumSet<PipelineCut> ordered = EnumSet.noneOf(PipelineCut.class);
    ordered.addAll(cuts);
    cuts = Collections.unmodifiableSet(ordered);
    List<String> faults = faults(name, lane);
    if (marking instanceof Marking.ByEntry && !cuts.isEmpty()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "lane array of %s: marks by entry have registers of their own and no pipeline cuts,"
                  + " found %s",
              lane.name(),
              cuts));
    }
    plan(lane, windowBytes, marking)
        .ifPresent(plan -> faults.addAll(plan.faults("lane array of " + lane.name())));
    DescriptionException.throwIfAny(faults);
  }

  private static void checkWindow(Predecoder lane, int windowBytes) {
    if (windowBytes < LEAST_WINDOW || windowBytes > MOST_WINDOW) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lane array of %s: a window must be in [%d, %d] bytes, found %d",
              lane.name(),
              LEAST_WINDOW,
              MOST_WINDOW,
              windowBytes));
    }
  }

  private static List<String> faults(String name, Predecoder lane) {
    List<String> faults = new ArrayList<>();
    if (name.equals(lane.name())) {
      faults.add(
          String.format(
              Locale.ROOT,
              "lane array of %s: array and lane must not share a name, found %s",
              lane.name(),
              lane.name()));
    }
    if (lane.instructionSet().table().isPort(name)) {
      faults.add(
          String.format(
              Locale.ROOT,
              "lane array of %s: the name must not be that of a port, found %s",
              lane.name(),
              name));
    }
    int late = Integer.bitCount(lateModes(lane));
    if (late > MOST_LATE_MODES) {
      faults.add(
          String.format(
              Locale.ROOT,
              "lane array of %s: prefixes of one unit each may change at most %d modes, found %d",
              lane.name(),
              MOST_LATE_MODES,
              late));
    }
    return faults;
  }

  /**
   * Starts an array whose last lanes see the next window's first bytes, with start bits found byte
   * after byte and no pipeline cut.
   *
   * @param lane what each byte's lane handles
   * @param windowBytes in [{@value #LEAST_WINDOW}, {@value #MOST_WINDOW}]
   * @return a builder
   * @throws IllegalArgumentException if the window is out of range
   */
  public static Builder builder(Predecoder lane, int windowBytes) {
    return new Builder(Objects.requireNonNull(lane, "lane"), windowBytes);
  }

  /**
   * Starts a copy; what is not given again stays as it is.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /**
   * Returns the bytes behind the window that the lanes see.
   *
   * @return the lane's lookahead, or 0 if lanes do not look behind the window
   */
  public int nextBytes() {
    return end == WindowEnd.NEXT_BYTES ? lane.lookahead() : 0;
  }

  /**
   * Returns the lane of a byte.
   *
   * @param position the byte, in [0, windowBytes)
   * @return the lane, which near the window's end may see fewer bytes; or empty if no code unit
   *     that starts there is wholly seen, so that nothing is handled
   * @throws IndexOutOfBoundsException if out of range
   */
  public Optional<Predecoder> laneAt(int position) {
    if (position < 0 || position >= windowBytes) {
      throw new IndexOutOfBoundsException(
          String.format(
              Locale.ROOT,
              "lane array %s: a byte must be in [0, %d), found %d",
              name,
              windowBytes,
              position));
    }
    int behind = windowBytes - 1 - position + nextBytes();
    if (behind >= lane.lookahead()) {
      return Optional.of(lane);
    }
    return behind < unitBytes() - 1
        ? Optional.empty()
        : Optional.of(lane.withLookahead(lane.name() + "_last" + (behind + 1), behind));
  }

  /**
   * Returns the prefixes that are items of their own.
   *
   * @return by code, ascending
   */
  public List<PrefixRules.Prefix> itemPrefixes() {
    return itemPrefixes(lane);
  }

  static List<PrefixRules.Prefix> itemPrefixes(Predecoder lane) {
    return lane.instructionSet().prefixes().prefixes().values().stream()
        .filter(p -> lane.prefixes().get(p.code()).equals(PrefixTreatment.ONE_UNIT_EACH))
        .toList();
  }

  /**
   * Returns the modes that prefixes can change behind the lanes.
   *
   * @return a one for each such mode of a mode word
   */
  public int lateModes() {
    return lateModes(lane);
  }

  static int lateModes(Predecoder lane) {
    List<String> modes = lane.instructionSet().table().modes();
    int late = 0;
    for (PrefixRules.Prefix prefix : itemPrefixes(lane)) {
      for (String mode : prefix.effects().keySet()) {
        late |= 1 << modes.indexOf(mode);
      }
    }
    return late;
  }

  /**
   * Returns what the lane of a byte says of it, for lanes whose answers are stored.
   *
   * @return bits: a length for each value of the late modes and, with late modes, whether the byte
   *     is a prefix and which effects it has
   */
  public int answerBits() {
    int late = Integer.bitCount(lateModes());
    long effects =
        itemPrefixes().stream().flatMap(p -> p.effects().entrySet().stream()).distinct().count();
    return (lane.lengthBits() << late) + (late == 0 ? 0 : 1 + (int) effects);
  }

  /**
   * Returns the width of an offset in the window.
   *
   * @return bits
   */
  public int offsetBits() {
    return bits(windowBytes - 1);
  }

  /**
   * Returns the width of the carry: it counts to the end of the longest item that starts at the
   * window's last byte, or to a redirect's offset.
   *
   * @return bits
   */
  public int carryBits() {
    return Math.max(bits(lane.longest() - 1), offsetBits());
  }

  /**
   * Returns the cycles from a window at the inputs to its marks at the outputs, stalls not counted.
   *
   * @return the number of pipeline cuts, or that of the cycles of {@link #entryPlan()}
   */
  public int latency() {
    return entryPlan().map(EntryPlan::latency).orElse(cuts.size());
  }

  /**
   * Returns which cycle does what if the marks are {@linkplain Marking.ByEntry by entry}.
   *
   * @return the plan; empty for any other marking
   */
  public Optional<EntryPlan> entryPlan() {
    return plan(lane, windowBytes, marking);
  }

  private static Optional<EntryPlan> plan(Predecoder lane, int windowBytes, Marking marking) {
    return marking instanceof Marking.ByEntry byEntry
        ? Optional.of(new EntryPlan(lane, windowBytes, byEntry))
        : Optional.empty();
  }

  /** Returns the name and the choices, without the lane's description. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%s of %d bytes, end %s, %s, cuts %s",
        name,
        windowBytes,
        end.label(),
        marking.label(),
        cuts);
  }

  private static int bits(int most) {
    return Integer.SIZE - Integer.numberOfLeadingZeros(Math.max(1, most));
  }

  private LengthTable table() {
    return lane.instructionSet().table();
  }

  private int unitBytes() {
    return table().unit().bytes();
  }

  /** Collects the parts of an array. */
  public static final class Builder {

    private final Predecoder lane;
    private final int windowBytes;
    private final Map<String, Object> given = new LinkedHashMap<>();
    private final Map<String, Object> kept = new LinkedHashMap<>();
    private final Set<PipelineCut> cuts = EnumSet.noneOf(PipelineCut.class);

    private Builder(Predecoder lane, int windowBytes) {
      this.lane = lane;
      this.windowBytes = windowBytes;
      checkWindow(lane, windowBytes);
    }

    private Builder(LaneArray array) {
      this(array.lane, array.windowBytes);
      kept.put("name", array.name);
      kept.put("end", array.end);
      kept.put("marking", array.marking);
      cuts.addAll(array.cuts);
    }

    /**
     * Names the array; the table's name and {@code _lanes} if not called.
     *
     * @param name a legal name
     * @return this builder
     * @throws IllegalArgumentException if the name is not legal
     * @throws IllegalStateException if given before
     */
    public Builder name(String name) {
      return give("name", HdlName.requireOfFile("lane array", name));
    }

    /**
     * Sets what the last lanes do about the bytes behind the window.
     *
     * @param end the treatment
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder end(WindowEnd end) {
      return give("end", end);
    }

    /**
     * Sets what is said of the instructions.
     *
     * @param marking the marking
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder marking(Marking marking) {
      return give("marking", marking);
    }

    /**
     * Adds a pipeline cut.
     *
     * @param cut where
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder cut(PipelineCut cut) {
      if (!cuts.add(Objects.requireNonNull(cut, "cut"))) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT, "%s: a pipeline cut is given once, found %s again", subject(), cut));
      }
      return this;
    }

    /**
     * Builds the array.
     *
     * @return the array
     * @throws DescriptionException if parts contradict each other
     */
    public LaneArray build() {
      Map<String, Object> set = new LinkedHashMap<>(kept);
      set.putAll(given);
      return new LaneArray(
          (String) set.getOrDefault("name", lane.instructionSet().table().name() + "_lanes"),
          lane,
          windowBytes,
          (WindowEnd) set.getOrDefault("end", WindowEnd.NEXT_BYTES),
          (Marking) set.getOrDefault("marking", Marking.fullRipple()),
          cuts);
    }

    private String subject() {
      return "lane array of " + lane.name();
    }

    private Builder give(String what, Object value) {
      Object before = given.putIfAbsent(what, Objects.requireNonNull(value, what));
      if (before != null) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "%s: %s is given once, found %s after %s",
                subject(),
                what,
                value,
                before));
      }
      return this;
    }
  }
}

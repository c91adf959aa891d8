package dev.lengthwise.realize.style;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.predecode.Predecoder;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * The inputs of a lane that are there later than the others, and when, in levels of LUTs.
 * Immutable.
 */
public final class LateInputs {

  /** No input is late. */
  public static final LateInputs NONE = new LateInputs(Map.of(), Map.of());

  private static final double MOST_LEVELS = 100;

  private final Map<String, Double> modes;
  private final Map<Integer, Double> bytes;

  private LateInputs(Map<String, Double> modes, Map<Integer, Double> bytes) {
    this.modes = new TreeMap<>(modes);
    this.bytes = new TreeMap<>(bytes);
  }

  /**
   * Returns these and a late mode.
   *
   * @throws IllegalArgumentException if the levels are none
   */
  public LateInputs withMode(String mode, double levels) {
    check("mode " + mode, levels);
    LateInputs more = new LateInputs(modes, bytes);
    more.modes.put(mode, levels);
    return more;
  }

  /**
   * Returns these and a late byte, counted from the lane's first.
   *
   * @throws IllegalArgumentException if the byte or the levels are none
   */
  public LateInputs withByte(int position, double levels) {
    if (position < 0) {
      throw new IllegalArgumentException(
          "late inputs: a byte must be at least 0, found " + position);
    }
    check("byte " + position, levels);
    LateInputs more = new LateInputs(modes, bytes);
    more.bytes.put(position, levels);
    return more;
  }

  private static void check(String what, double levels) {
    if (!(levels >= 0 && levels <= MOST_LEVELS)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "late inputs: %s must come after [0, %.0f] levels, found %s",
              what,
              MOST_LEVELS,
              levels));
    }
  }

  /**
   * Refuses inputs that a lane does not have.
   *
   * @throws IllegalArgumentException if there is one
   */
  public void check(Predecoder lane) {
    List<String> known = lane.instructionSet().table().modes();
    for (String mode : modes.keySet()) {
      if (!known.contains(mode)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "late inputs: a mode of lane %s is expected, found %s",
                lane.name(),
                mode));
      }
    }
    for (int position : bytes.keySet()) {
      if (position > lane.lookahead()) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "late inputs: a byte of lane %s is in [0, %d), found %d",
                lane.name(),
                1 + lane.lookahead(),
                position));
      }
    }
  }

  /**
   * Returns a model of delays in which these inputs of a lane come late.
   *
   * @param delays what LUTs take
   * @param shape the lane
   * @param skipped the bytes before its first
   */
  public DelayModel on(DelayModel delays, LaneFunction shape, int skipped) {
    int code = 8 * shape.bytes();
    int[] arrivals = new int[code + shape.modes().size()];
    for (int i = 0; i < code; i++) {
      arrivals[i] = units(bytes.getOrDefault(i / 8 + skipped, 0.0), delays);
    }
    for (int mode = 0; mode < shape.modes().size(); mode++) {
      arrivals[code + mode] = units(modes.getOrDefault(shape.modes().get(mode), 0.0), delays);
    }
    return delays.withArrivals(arrivals);
  }

  /** Returns the late modes of a lane, the latest last. */
  List<String> modes(LaneFunction shape) {
    return shape.modes().stream()
        .filter(mode -> modes.getOrDefault(mode, 0.0) > 0)
        .sorted(Comparator.comparingDouble(modes::get))
        .toList();
  }

  private static int units(double levels, DelayModel delays) {
    return (int) Math.ceil(levels * delays.level());
  }

  /** Returns the levels after which the latest is there, a part of one counted as one. */
  int mostLevels() {
    return (int)
        Math.ceil(
            Stream.concat(modes.values().stream(), bytes.values().stream())
                .mapToDouble(Double::doubleValue)
                .max()
                .orElse(0));
  }

  /** Tells whether there are none. */
  public boolean isEmpty() {
    return modes.isEmpty() && bytes.isEmpty();
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof LateInputs that && modes.equals(that.modes) && bytes.equals(that.bytes);
  }

  @Override
  public int hashCode() {
    return 31 * modes.hashCode() + bytes.hashCode();
  }

  @Override
  public String toString() {
    return "modes " + modes + ", bytes " + bytes;
  }
}

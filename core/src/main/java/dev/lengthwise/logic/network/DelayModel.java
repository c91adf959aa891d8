package dev.lengthwise.logic.network;

import java.util.Arrays;
import java.util.Locale;
import java.util.stream.IntStream;

/**
 * What time signals take, in whole numbers of any unit: by the input of a LUT that they go through,
 * by how many read them, from when inputs are there until when outputs have to be.
 *
 * <p>The latest fan-in of a LUT is taken to go through the fastest of its inputs, the next one
 * through the next, as {@link PinOrder} connects them. {@link #LEVELS} is the model in which each
 * LUT takes 1 and nothing else counts: a delay is a number of levels. Immutable.
 */
public final class DelayModel {

  /** The model of levels. */
  public static final DelayModel LEVELS = new DelayModel(new int[] {1}, 0, new int[0], new int[0]);

  /** The most that a model takes for one thing, so that sums do not overflow. */
  private static final int MOST = 1_000_000;

  private static final int PARTS_OF_A_LEVEL = 4;

  /** By input of the LUT. */
  private final int[] pins;

  /** The same, the fastest first. */
  private final int[] sorted;

  private final int fanOut;
  private final int[] arrivals;
  private final int[] after;
  private final boolean uniform;
  private final boolean levels;

  private DelayModel(int[] pins, int fanOut, int[] arrivals, int[] after) {
    this.pins = pins;
    this.sorted = pins.clone();
    Arrays.sort(sorted);
    this.fanOut = fanOut;
    this.arrivals = arrivals;
    this.after = after;
    this.uniform = fanOut == 0 && sorted[0] == sorted[sorted.length - 1];
    this.levels =
        uniform
            && sorted[0] == 1
            && Arrays.stream(arrivals).allMatch(time -> time == 0)
            && Arrays.stream(after).allMatch(time -> time == 0);
  }

  /**
   * Returns a model without fan-out, whose inputs are there from the start.
   *
   * @param delays from each input of a LUT to its output, input 0 first; further inputs are as slow
   *     as the slowest
   * @return the model
   * @throws IllegalArgumentException if there is none, or one is not in [1, 1000000]
   */
  public static DelayModel ofPins(int... delays) {
    if (delays.length == 0) {
      throw new IllegalArgumentException("delay model: delays of pins are expected, found none");
    }
    Arrays.stream(delays).forEach(delay -> check("a pin must take", delay, 1));
    return new DelayModel(delays.clone(), 0, new int[0], new int[0]);
  }

  /**
   * Returns a model in which a signal takes longer for each reader beyond its first.
   *
   * @param delay for each, LUTs and outputs
   * @return the model
   * @throws IllegalArgumentException if it is not in [0, 1000000]
   */
  public DelayModel withFanOut(int delay) {
    check("a further reader must take", delay, 0);
    return new DelayModel(pins, delay, arrivals, after);
  }

  /**
   * Returns a model in which inputs come late.
   *
   * @param times when each input is there, input 0 first; further ones are from the start
   * @return the model
   * @throws IllegalArgumentException if one is not in [0, 1000000]
   */
  public DelayModel withArrivals(int... times) {
    Arrays.stream(times).forEach(time -> check("an input must come at", time, 0));
    return new DelayModel(pins, fanOut, times.clone(), after);
  }

  /**
   * Returns a model in which outputs have to be there at different times: those that are needed
   * first count as later by what they are needed earlier than the last.
   *
   * @param times when each output is needed, output 0 first; further ones are needed last
   * @return the model
   * @throws IllegalArgumentException if one is not in [0, 1000000]
   */
  public DelayModel withRequired(int... times) {
    Arrays.stream(times).forEach(time -> check("an output must be needed at", time, 0));
    int last = Arrays.stream(times).max().orElse(0);
    return new DelayModel(
        pins, fanOut, arrivals, Arrays.stream(times).map(time -> last - time).toArray());
  }

  private static void check(String what, int value, int least) {
    if (value < least || value > MOST) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT, "delay model: %s [%d, %d], found %d", what, least, MOST, value));
    }
  }

  /**
   * Returns the model of a function that reads some of these inputs.
   *
   * @param places the input of this model that each of its inputs is; below 0 one that is there
   *     from the start
   * @return the model
   */
  public DelayModel ofInputs(int... places) {
    return withArrivals(Arrays.stream(places).map(this::arrival).toArray());
  }

  /**
   * Returns what counts as a level: the delay of the slowest input of a LUT.
   *
   * @return at least 1
   */
  public int level() {
    return sorted[sorted.length - 1];
  }

  /**
   * Returns the delay of the fastest input of a LUT.
   *
   * @return at least 1
   */
  public int fastest() {
    return sorted[0];
  }

  /**
   * Returns by what a search lowers a delay at once: a level, or a good part of one where LUTs are
   * not all as slow.
   *
   * @return at least 1
   */
  public int step() {
    return uniform ? level() : Math.max(1, level() / PARTS_OF_A_LEVEL);
  }

  /**
   * Tells whether LUTs take the same time through any input, however many read them.
   *
   * @return true if so
   */
  public boolean isUniform() {
    return uniform;
  }

  /**
   * Returns when an input is there.
   *
   * @param input its number
   * @return at least 0
   */
  public int arrival(int input) {
    return input >= 0 && input < arrivals.length ? arrivals[input] : 0;
  }

  /**
   * Returns how much earlier than the last an output is needed.
   *
   * @param output its number
   * @return at least 0
   */
  public int after(int output) {
    return output < after.length ? after[output] : 0;
  }

  /**
   * Returns how much later a signal is at each of its readers than at one alone.
   *
   * @param readers how many there are
   * @return at least 0
   */
  public int spread(int readers) {
    return fanOut * Math.max(0, readers - 1);
  }

  /**
   * Returns the inputs of a LUT of some fan-ins, those that take the latest first.
   *
   * @param count how many fan-ins there are
   * @return the numbers of inputs, the fastest first; inputs of one delay in the order of fan-ins
   */
  int[] fastestPins(int count) {
    return IntStream.range(0, Math.max(count, pins.length))
        .boxed()
        .sorted((a, b) -> pin(a) != pin(b) ? pin(a) - pin(b) : a - b)
        .limit(count)
        .mapToInt(Integer::intValue)
        .toArray();
  }

  private int pin(int input) {
    return input < pins.length ? pins[input] : level();
  }

  private int ranked(int rank) {
    return rank < sorted.length ? sorted[rank] : level();
  }

  /**
   * Returns what each fan-in of a LUT takes through it.
   *
   * @param times when each fan-in is there
   * @return the delays, in the order of the fan-ins
   */
  public int[] through(int[] times) {
    int[] delays = new int[times.length];
    for (int i = 0; i < times.length; i++) {
      int earlier = 0;
      for (int j = 0; j < times.length; j++) {
        earlier += times[j] > times[i] || times[j] == times[i] && j < i ? 1 : 0;
      }
      delays[i] = ranked(earlier);
    }
    return delays;
  }

  /**
   * Returns when a LUT is there.
   *
   * @param times when each fan-in is there
   * @return the time
   */
  public int lut(int[] times) {
    int latest = 0;
    if (uniform) {
      for (int time : times) {
        latest = Math.max(latest, time);
      }
      return latest + level();
    }
    int[] delays = through(times);
    for (int i = 0; i < times.length; i++) {
      latest = Math.max(latest, times[i] + delays[i]);
    }
    return latest;
  }

  /**
   * Returns when the last output of a network is there; outputs that are needed earlier count as
   * later by that.
   *
   * @param network the network
   * @return its levels in the model of levels
   */
  public int delay(LutNetwork network) {
    if (levels) {
      return network.levels();
    }
    int[] times = times(network);
    int[] readers = readers(network);
    int delay = 0;
    for (int o = 0; o < network.outputs().size(); o++) {
      int signal = network.outputs().get(o).signal();
      if (signal >= 0) {
        delay = Math.max(delay, times[signal] + spread(readers[signal]) + after(o));
      }
    }
    return delay;
  }

  /**
   * Returns the delay of a network in whole levels, a part of one counted as one.
   *
   * @param network the network
   * @return its levels in the model of levels
   */
  public int levels(LutNetwork network) {
    return (delay(network) + level() - 1) / level();
  }

  /**
   * Returns when each signal of a network is there.
   *
   * @param network the network
   * @return the times, signal 0 first
   */
  public int[] times(LutNetwork network) {
    int inputs = network.inputNames().size();
    int[] readers = readers(network);
    int[] times = new int[inputs + network.luts().size()];
    for (int i = 0; i < inputs; i++) {
      times[i] = arrival(i);
    }
    for (int i = 0; i < network.luts().size(); i++) {
      times[inputs + i] =
          lut(
              network.luts().get(i).fanIns().stream()
                  .mapToInt(signal -> times[signal] + spread(readers[signal]))
                  .toArray());
    }
    return times;
  }

  /** Returns how many LUTs and outputs read each signal. */
  int[] readers(LutNetwork network) {
    int[] readers = new int[network.inputNames().size() + network.luts().size()];
    network.luts().forEach(lut -> lut.fanIns().forEach(signal -> readers[signal]++));
    network.outputs().stream()
        .filter(output -> output.signal() >= 0)
        .forEach(output -> readers[output.signal()]++);
    return readers;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof DelayModel that
        && Arrays.equals(pins, that.pins)
        && fanOut == that.fanOut
        && Arrays.equals(arrivals, that.arrivals)
        && Arrays.equals(after, that.after);
  }

  @Override
  public int hashCode() {
    return 31 * (31 * Arrays.hashCode(pins) + Arrays.hashCode(arrivals)) + fanOut;
  }

  /** Returns the model for people. */
  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "pins %s, %d for each further reader, arrivals %s, behind outputs %s",
        Arrays.toString(pins),
        fanOut,
        Arrays.toString(arrivals),
        Arrays.toString(after));
  }
}

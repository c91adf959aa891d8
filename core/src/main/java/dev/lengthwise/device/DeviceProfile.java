package dev.lengthwise.device;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * What a family of devices offers, as far as mapping and cost need it.
 *
 * <p>The ready-made profiles are generic. Where no source is named, a figure is common practice;
 * the delays are round figures without a source, wide on purpose, but for those of {@link
 * #fourInput()}; the user's own replace them through {@link #toBuilder()}. Immutable.
 *
 * <p>Longer than other files, since each figure is explained twice: where it is set and where it is
 * read.
 */
public final class DeviceProfile {

  private final String name;
  private final int lutInputs;
  private final int pairInputs;
  private final boolean wideMuxes;
  private final List<RamShape> blockRams;
  private final List<RamShape> distributedRams;
  private final DelayRange registerDelay;
  private final DelayRange levelDelay;
  private final DelayRange wireDelay;
  private final DelayRange blockRamDelay;
  private final DelayRange distributedRamDelay;
  private final List<Double> pinDelays;
  private final double fanOutDelay;

  private DeviceProfile(Builder builder) {
    name = builder.name;
    lutInputs = builder.lutInputs;
    pairInputs = builder.pairInputs;
    wideMuxes = builder.wideMuxes;
    blockRams = List.copyOf(builder.blockRams);
    distributedRams = List.copyOf(builder.distributedRams);
    registerDelay = builder.registerDelay;
    levelDelay = builder.levelDelay;
    wireDelay = builder.wireDelay;
    blockRamDelay = builder.blockRamDelay;
    distributedRamDelay = builder.distributedRamDelay;
    pinDelays = builder.pinDelays;
    fanOutDelay = builder.fanOutDelay;
  }

  /**
   * Starts a profile without RAM, dual outputs or wide muxes.
   *
   * @param name what reports call it
   * @param lutInputs the inputs of a LUT, in [3, 8]
   * @return a builder
   * @throws IllegalArgumentException if {@code lutInputs} is out of range
   */
  public static Builder named(String name, int lutInputs) {
    return new Builder(name, lutInputs);
  }

  /**
   * Returns a profile of six-input LUTs of which each can serve two functions of five shared
   * inputs, with hard muxes behind them.
   *
   * <p>LUT size, dual outputs, wide muxes and the 64-bit LUT RAM (64 x 1, or 32 x 2): a published
   * logic-block guide, UG474 v1.9. Block RAM of 32 Kibit and a spare bit for each byte: common
   * practice, no source.
   *
   * @return the profile
   */
  public static DeviceProfile sixInputDualOutput() {
    return named("six_input_dual_output", 6)
        .pairInputs(5)
        .wideMuxes(true)
        .blockRam(512, 64, 8)
        .blockRam(1024, 32, 4)
        .blockRam(2048, 16, 2)
        .blockRam(4096, 8, 1)
        .blockRam(8192, 4, 0)
        .blockRam(16384, 2, 0)
        .blockRam(32768, 1, 0)
        .distributedRam(32, 2, 0)
        .distributedRam(64, 1, 0)
        .build();
  }

  /**
   * Returns a profile of six-input LUTs with one output and no hard muxes: what a general
   * synthesizer assumes of "LUT6". Block RAM of 16 Kibit: common practice, no source.
   *
   * @return the profile
   */
  public static DeviceProfile sixInput() {
    return named("six_input", 6)
        .blockRam(512, 32, 4)
        .blockRam(1024, 16, 2)
        .blockRam(2048, 8, 1)
        .distributedRam(64, 1, 0)
        .build();
  }

  /**
   * Returns a profile of five-input LUTs with one output. Block RAM of 16 Kibit and 32-bit LUT RAM:
   * common practice, no source.
   *
   * @return the profile
   */
  public static DeviceProfile fiveInput() {
    return named("five_input", 5)
        .blockRam(512, 32, 4)
        .blockRam(1024, 16, 2)
        .blockRam(2048, 8, 1)
        .distributedRam(32, 1, 0)
        .build();
  }

  /**
   * Returns a profile of small devices: four-input LUTs with one output, no LUT RAM, block RAM of 4
   * Kibit without spare bits. Common practice, no source.
   *
   * <p>The delays are our own measurements in the open four-input flow, from register to register,
   * the median of three seeds by the best script of synthesis: 22 lanes, rows and fetch units of
   * sets drawn at random, of 3 to 1270 LUTs in 1 to 16 levels, which took 1.6 to 17.1 ns. Fitted by
   * {@code Calibration}, they hold 20 of these; {@code timing --calibration --seeds 3} of the
   * examples measures and fits them anew. A register takes 0.63 ns with the set-up behind it, a
   * level 0.99 and 0.02 more for every doubling of the LUTs in a level, a block RAM with its set-up
   * 2.4; the ranges are that and a fifth either way. Levels were counted before gates were factored
   * and had local don't-cares; fitted to those counted since, a level would take 0.91 and 0.05 more
   * for a doubling, which held as many of the designs that {@code ClockEstimateTest} compares, with
   * more error.
   *
   * @return the profile
   */
  public static DeviceProfile fourInput() {
    return named("four_input", 4)
        .blockRam(256, 16, 0)
        .blockRam(512, 8, 0)
        .blockRam(1024, 4, 0)
        .blockRam(2048, 2, 0)
        .registerDelay(0.518, 0.764)
        .levelDelay(0.814, 1.201)
        .wireDelay(0.019, 0.029)
        .blockRamDelay(2.001, 2.948)
        .build();
  }

  /**
   * Returns what reports call it.
   *
   * @return the name
   */
  public String name() {
    return name;
  }

  /**
   * Returns the inputs of a LUT.
   *
   * @return in [3, 8]
   */
  public int lutInputs() {
    return lutInputs;
  }

  /**
   * Returns the most distinct signals that two functions in one site may read together.
   *
   * @return in [0, lutInputs]; 0 if a site serves one function only
   */
  public int pairInputs() {
    return pairInputs;
  }

  /**
   * Tells whether hard muxes join the LUTs of neighbouring sites.
   *
   * @return true if so
   */
  public boolean wideMuxes() {
    return wideMuxes;
  }

  /**
   * Returns the shapes of a block RAM, in the order given.
   *
   * @return an immutable list
   */
  public List<RamShape> blockRams() {
    return blockRams;
  }

  /**
   * Returns the shapes of the RAM in one LUT, in the order given.
   *
   * @return an immutable list, empty if LUTs are no RAM
   */
  public List<RamShape> distributedRams() {
    return distributedRams;
  }

  /**
   * Returns the delay of a register at the start of a path, and of the set-up of that at its end.
   *
   * @return nanoseconds
   */
  public DelayRange registerDelay() {
    return registerDelay;
  }

  /**
   * Returns the delay of one LUT with the wiring between neighbours.
   *
   * @return nanoseconds
   */
  public DelayRange levelDelay() {
    return levelDelay;
  }

  /**
   * Returns what wiring takes more in each level of a larger design, for every doubling of the LUTs
   * that stand in a level: the more there are, the further they lie apart and the more of them a
   * signal goes to.
   *
   * @return nanoseconds
   */
  public DelayRange wireDelay() {
    return wireDelay;
  }

  /**
   * Returns the delay of a block RAM from its clock to its data, with wiring.
   *
   * @return nanoseconds
   */
  public DelayRange blockRamDelay() {
    return blockRamDelay;
  }

  /**
   * Returns the delay of a distributed RAM from its address to its data, with wiring.
   *
   * @return nanoseconds
   */
  public DelayRange distributedRamDelay() {
    return distributedRamDelay;
  }

  /**
   * Returns the delay from each input of a LUT to its output, with wiring.
   *
   * @return nanoseconds, input 0 first; empty if every input counts as one level
   */
  public List<Double> pinDelays() {
    return pinDelays;
  }

  /**
   * Returns what a signal takes longer for each reader beyond its first.
   *
   * @return nanoseconds
   */
  public double fanOutDelay() {
    return fanOutDelay;
  }

  /**
   * Returns a builder with these settings; RAM shapes are added to those present.
   *
   * @return a new builder
   */
  public Builder toBuilder() {
    Builder builder = new Builder(name, lutInputs);
    builder.pairInputs = pairInputs;
    builder.wideMuxes = wideMuxes;
    builder.blockRams.addAll(blockRams);
    builder.distributedRams.addAll(distributedRams);
    builder.registerDelay = registerDelay;
    builder.levelDelay = levelDelay;
    builder.wireDelay = wireDelay;
    builder.blockRamDelay = blockRamDelay;
    builder.distributedRamDelay = distributedRamDelay;
    builder.pinDelays = pinDelays;
    builder.fanOutDelay = fanOutDelay;
    return builder;
  }

  private List<Object> fields() {
    return List.of(
        name,
        lutInputs,
        pairInputs,
        wideMuxes,
        blockRams,
        distributedRams,
        registerDelay,
        levelDelay,
        wireDelay,
        blockRamDelay,
        distributedRamDelay,
        pinDelays,
        fanOutDelay);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof DeviceProfile that && fields().equals(that.fields());
  }

  @Override
  public int hashCode() {
    return fields().hashCode();
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%s (%d-input LUTs)", name, lutInputs);
  }

  /** Collects the settings of a profile. */
  public static final class Builder {

    private final String name;
    private final int lutInputs;
    private int pairInputs;
    private boolean wideMuxes;
    private final List<RamShape> blockRams = new ArrayList<>();
    private final List<RamShape> distributedRams = new ArrayList<>();
    private DelayRange registerDelay = new DelayRange(0.4, 1.0);
    private DelayRange levelDelay = new DelayRange(0.5, 1.2);
    private DelayRange wireDelay = new DelayRange(0, 0);
    private DelayRange blockRamDelay = new DelayRange(1.0, 2.5);
    private DelayRange distributedRamDelay = new DelayRange(0.7, 1.5);
    private List<Double> pinDelays = List.of();
    private double fanOutDelay;

    private Builder(String name, int lutInputs) {
      this.name = Objects.requireNonNull(name, "name");
      this.lutInputs = lutInputs;
      if (lutInputs < 3 || lutInputs > 8) {
        throw new IllegalArgumentException(
            "device profile: the inputs of a lut must be in [3, 8], found " + lutInputs);
      }
    }

    /**
     * Sets the most distinct signals that two functions in one site may read together.
     *
     * @param value in [0, lutInputs]; 0 means one function a site
     * @return this
     * @throws IllegalArgumentException if the value is out of range
     */
    public Builder pairInputs(int value) {
      if (value < 0 || value > lutInputs) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "device profile: the pair inputs must be in [0, %d], found %d",
                lutInputs,
                value));
      }
      pairInputs = value;
      return this;
    }

    /**
     * Sets whether hard muxes join the LUTs of neighbouring sites.
     *
     * @param value true if so
     * @return this
     */
    public Builder wideMuxes(boolean value) {
      wideMuxes = value;
      return this;
    }

    /**
     * Adds a shape of the block RAM.
     *
     * @param depth the words, a power of two
     * @param width the data bits of a word
     * @param spareBits further bits of a word
     * @return this
     * @throws IllegalArgumentException if the shape is none
     */
    public Builder blockRam(int depth, int width, int spareBits) {
      blockRams.add(new RamShape(depth, width, spareBits));
      return this;
    }

    /**
     * Adds a shape of the RAM in one LUT.
     *
     * @param depth the words, a power of two
     * @param width the data bits of a word
     * @param spareBits further bits of a word
     * @return this
     * @throws IllegalArgumentException if the shape is none
     */
    public Builder distributedRam(int depth, int width, int spareBits) {
      distributedRams.add(new RamShape(depth, width, spareBits));
      return this;
    }

    /**
     * Sets the delay of a register at the start of a path, and of the set-up of that at its end.
     *
     * @param fastest in nanoseconds
     * @param slowest in nanoseconds
     * @return this
     * @throws IllegalArgumentException if they are no range
     */
    public Builder registerDelay(double fastest, double slowest) {
      registerDelay = new DelayRange(fastest, slowest);
      return this;
    }

    /**
     * Sets what wiring takes more in each level for every doubling of the LUTs in a level.
     *
     * @param fastest in nanoseconds
     * @param slowest in nanoseconds
     * @return this
     * @throws IllegalArgumentException if they are no range
     */
    public Builder wireDelay(double fastest, double slowest) {
      wireDelay = new DelayRange(fastest, slowest);
      return this;
    }

    /**
     * Sets the delay of one LUT with the wiring between neighbours.
     *
     * @param fastest in nanoseconds
     * @param slowest in nanoseconds
     * @return this
     * @throws IllegalArgumentException if they are no range
     */
    public Builder levelDelay(double fastest, double slowest) {
      levelDelay = new DelayRange(fastest, slowest);
      return this;
    }

    /**
     * Sets the delay of a block RAM from its clock to its data, with wiring.
     *
     * @param fastest in nanoseconds
     * @param slowest in nanoseconds
     * @return this
     * @throws IllegalArgumentException if they are no range
     */
    public Builder blockRamDelay(double fastest, double slowest) {
      blockRamDelay = new DelayRange(fastest, slowest);
      return this;
    }

    /**
     * Sets the delay of a distributed RAM from its address to its data, with wiring.
     *
     * @param fastest in nanoseconds
     * @param slowest in nanoseconds
     * @return this
     * @throws IllegalArgumentException if they are no range
     */
    public Builder distributedRamDelay(double fastest, double slowest) {
      distributedRamDelay = new DelayRange(fastest, slowest);
      return this;
    }

    /**
     * Sets the delay from each input of a LUT to its output, with wiring, where some are faster: so
     * what comes late goes through a fast one, in the search for networks and in emitted instances.
     *
     * @param nanoseconds one for each input, input 0 first, in [0.001, 1000]
     * @return this
     * @throws IllegalArgumentException if there is not one for each input, or one is out of range
     */
    public Builder pinDelays(double... nanoseconds) {
      if (nanoseconds.length != lutInputs) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "device profile: a delay for each of %d inputs of a lut is expected, found %d",
                lutInputs,
                nanoseconds.length));
      }
      pinDelays =
          Arrays.stream(nanoseconds)
              .map(delay -> checked("the delay of a pin", delay, 0.001))
              .boxed()
              .toList();
      return this;
    }

    /**
     * Sets what a signal takes longer for each reader beyond its first; delays of pins must be
     * given too.
     *
     * @param nanoseconds in [0, 1000]
     * @return this
     * @throws IllegalArgumentException if it is out of range
     */
    public Builder fanOutDelay(double nanoseconds) {
      fanOutDelay = checked("the delay of a further reader", nanoseconds, 0);
      return this;
    }

    private static double checked(String what, double value, double least) {
      if (!(value >= least && value <= 1000)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "device profile: %s must be in [%s, 1000] ns, found %s",
                what,
                least == 0 ? "0" : Double.toString(least),
                value));
      }
      return value;
    }

    /**
     * Makes the profile.
     *
     * @return the profile
     * @throws IllegalStateException if a RAM shape is given twice, or a delay of further readers
     *     without those of pins
     */
    public DeviceProfile build() {
      for (List<RamShape> shapes : List.of(blockRams, distributedRams)) {
        if (new HashSet<>(shapes).size() != shapes.size()) {
          throw new IllegalStateException(
              "device profile: ram shapes must differ, found " + shapes);
        }
      }
      if (fanOutDelay > 0 && pinDelays.isEmpty()) {
        throw new IllegalStateException(
            "device profile: a delay of further readers needs the delays of pins, found none");
      }
      return new DeviceProfile(this);
    }
  }

  /**
   * One configuration of a RAM block.
   *
   * @param depth the words, a power of two
   * @param width the data bits of a word, in [1, 1024]
   * @param spareBits further bits of a word, made for parity and free for any use, in [0, 128]
   */
  public record RamShape(int depth, int width, int spareBits) {

    /**
     * Checks the ranges.
     *
     * @param depth see RamShape
     * @param width see RamShape
     * @param spareBits see RamShape
     */
    public RamShape {
      if (depth < 1 || Integer.bitCount(depth) != 1) {
        throw new IllegalArgumentException(
            "ram shape: the depth must be a power of two, found " + depth);
      }
      if (width < 1 || width > 1024) {
        throw new IllegalArgumentException(
            "ram shape: the width must be in [1, 1024], found " + width);
      }
      if (spareBits < 0 || spareBits > 128) {
        throw new IllegalArgumentException(
            "ram shape: the spare bits must be in [0, 128], found " + spareBits);
      }
    }

    /**
     * Returns all bits of the block.
     *
     * @return depth times (width + spare bits)
     */
    public long bits() {
      return (long) depth * (width + spareBits);
    }

    /** Returns the shape as {@code "512 x 32+4"}. */
    @Override
    public String toString() {
      return spareBits == 0
          ? String.format(Locale.ROOT, "%d x %d", depth, width)
          : String.format(Locale.ROOT, "%d x %d+%d", depth, width, spareBits);
    }
  }

  /**
   * A delay between a fast and a slow case.
   *
   * @param fastest in nanoseconds, at least 0
   * @param slowest in nanoseconds, at least {@code fastest}
   */
  public record DelayRange(double fastest, double slowest) {

    /**
     * Checks the order.
     *
     * @param fastest see DelayRange
     * @param slowest see DelayRange
     */
    public DelayRange {
      if (!(fastest >= 0 && slowest >= fastest && slowest < 1e6)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "delay range: must be 0 <= fastest <= slowest < 1e6 ns, found %s and %s",
                fastest,
                slowest));
      }
    }

    /**
     * Returns this delay some times in a row.
     *
     * @param count how often, at least 0
     * @return the sum
     * @throws IllegalArgumentException if {@code count} is negative
     */
    public DelayRange times(int count) {
      if (count < 0) {
        throw new IllegalArgumentException(
            "delay range: a count must be at least 0, found " + count);
      }
      return new DelayRange(fastest * count, slowest * count);
    }

    /**
     * Returns this delay and another in a row.
     *
     * @param other the other delay
     * @return the sum
     */
    public DelayRange plus(DelayRange other) {
      return new DelayRange(fastest + other.fastest, slowest + other.slowest);
    }
  }
}

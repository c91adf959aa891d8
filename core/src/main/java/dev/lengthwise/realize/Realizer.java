package dev.lengthwise.realize;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.SearchProgress;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LevelFront;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.cells.Facts;
import dev.lengthwise.realize.fetch.CacheCore;
import dev.lengthwise.realize.fetch.FetchTop;
import dev.lengthwise.realize.lane.BankedWords;
import dev.lengthwise.realize.lane.FoldedLane;
import dev.lengthwise.realize.lane.LaneCore;
import dev.lengthwise.realize.lane.RomWords;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.marks.MarkBlocks;
import dev.lengthwise.realize.row.LaneBlocks;
import dev.lengthwise.realize.row.RowTop;
import dev.lengthwise.realize.style.LaneStyle;
import dev.lengthwise.realize.style.LateInputs;
import dev.lengthwise.realize.style.NetworkStyle;
import dev.lengthwise.realize.style.WordStyle;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.work.TimedSearch;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicReference;

/**
 * Makes lanes, rows of lanes and fetch units into hardware. Immutable; the same lane, style,
 * device, effort and seed give the same design. A thread that is interrupted leaves every method
 * with a {@link CancelledException}.
 */
public final class Realizer {

  private final DeviceProfile device;
  private final MapperSettings settings;
  private final int mostLevels;
  private final LateInputs late;

  /**
   * The best design that was found in a time.
   *
   * @param design the design
   * @param account what was tried, in words, in the order in which it was
   * @param interrupted whether the time was cut short
   */
  public record TimedDesign(Design design, List<String> account, boolean interrupted) {

    /**
     * Checks the design and copies the list.
     *
     * @param design see TimedDesign
     * @param account see TimedDesign
     * @param interrupted see TimedDesign
     */
    public TimedDesign {
      Objects.requireNonNull(design, "design");
      account = List.copyOf(account);
    }
  }

  private Realizer(DeviceProfile device, MapperSettings settings, int mostLevels, LateInputs late) {
    this.device = device;
    this.settings = settings;
    this.mostLevels = mostLevels;
    this.late = late;
  }

  /**
   * Returns a realizer of effort {@link Effort#QUICK}, objective {@link Objective#DEPTH} and seed
   * 1.
   *
   * @param device what designs are mapped to
   * @return the realizer
   */
  public static Realizer on(DeviceProfile device) {
    Objects.requireNonNull(device, "device");
    MapperSettings settings =
        MapperSettings.of(device.lutInputs()).with(Objective.DEPTH).with(delays(device));
    return new Realizer(device, settings, Integer.MAX_VALUE, LateInputs.NONE);
  }

  /** Returns the delays of LUTs in picoseconds, or levels if the device does not tell them. */
  private static DelayModel delays(DeviceProfile device) {
    if (device.pinDelays().isEmpty()) {
      return DelayModel.LEVELS;
    }
    int[] pins = device.pinDelays().stream().mapToInt(Realizer::picoseconds).toArray();
    return DelayModel.ofPins(pins).withFanOut(picoseconds(device.fanOutDelay()));
  }

  private static int picoseconds(double nanoseconds) {
    return (int) Math.round(nanoseconds * 1000);
  }

  /**
   * Returns a realizer that spends more or less work on mapping.
   *
   * @param value the effort
   * @return a new realizer
   */
  public Realizer withEffort(Effort value) {
    return new Realizer(device, settings.with(value), mostLevels, late);
  }

  /**
   * Returns a realizer that minimises something else first.
   *
   * @param value levels or LUTs
   * @return a new realizer
   */
  public Realizer withObjective(Objective value) {
    return new Realizer(device, settings.with(value), mostLevels, late);
  }

  /**
   * Returns a realizer that lowers a {@link Style#LUT_NETWORK} of more levels than a bound, by
   * further LUTs where it must. The design may exceed the bound if no search met it.
   *
   * @param value the most levels, at least 1
   * @return a new realizer
   * @throws IllegalArgumentException if the bound is below 1
   */
  public Realizer withMostLevels(int value) {
    if (value < 1) {
      throw new IllegalArgumentException(
          "realizer: the most levels must be at least 1, found " + value);
    }
    return new Realizer(device, settings, value, late);
  }

  /**
   * Returns a realizer of lanes in which a mode is there later than the other inputs, as that of a
   * {@link Style#LUT_NETWORK} then passes few levels. Levels, also those of {@link
   * #withMostLevels}, count from when the first input is there.
   *
   * @param mode the mode
   * @param levels the levels of LUTs after which it is there, in [0, 100]
   * @return a new realizer
   * @throws IllegalArgumentException if the levels are out of range
   */
  public Realizer withLateMode(String mode, double levels) {
    Objects.requireNonNull(mode, "mode");
    return new Realizer(device, settings, mostLevels, late.withMode(mode, levels));
  }

  /**
   * Returns a realizer of lanes in which a byte is there later than the other inputs; see {@link
   * #withLateMode}.
   *
   * @param position the byte, counted from the lane's own
   * @param levels the levels of LUTs after which it is there, in [0, 100]
   * @return a new realizer
   * @throws IllegalArgumentException if the byte is below 0 or the levels are out of range
   */
  public Realizer withLateByte(int position, double levels) {
    return new Realizer(device, settings, mostLevels, late.withByte(position, levels));
  }

  /**
   * Returns a realizer whose searches start elsewhere.
   *
   * @param value the seed
   * @return a new realizer
   */
  public Realizer withSeed(long value) {
    return new Realizer(device, settings.withSeed(value), mostLevels, late);
  }

  /**
   * Returns a realizer that reports how a search goes on.
   *
   * @param listener is told now and then
   * @return a new realizer
   */
  public Realizer withProgress(SearchProgress listener) {
    return new Realizer(device, settings.with(listener), mostLevels, late);
  }

  /**
   * Makes a lane.
   *
   * @param lane what it handles
   * @param style what it is made of
   * @return the design
   * @throws IllegalArgumentException if the lane has no such mode or byte as is late
   * @throws IllegalStateException if something is late and the style is no network
   */
  public Design realize(Predecoder lane, Style style) {
    return design(lane, style, style(style)::core);
  }

  /**
   * Makes a lane as a network of LUTs, by a search that lasts a time, on all processors: as {@link
   * #realize(Predecoder, Style)} does first, then on from the best network and from new starts. If
   * the thread is interrupted after the first network is there, the best so far is returned and the
   * flag stays set. How far a search comes depends on the machine, so the design does too. Lanes
   * that look through prefixes are several networks, which share the time.
   *
   * @param lane what it handles
   * @param time how long to search at least; the first network takes what it takes
   * @return the best design, and what was tried
   * @throws IllegalArgumentException if the time is not above 0
   * @throws CancelledException if the thread is interrupted before there is a network
   */
  public TimedDesign realizeFor(Predecoder lane, Duration time) {
    if (time.isNegative() || time.isZero()) {
      throw new IllegalArgumentException("realizer: the time must be above 0, found " + time);
    }
    NetworkStyle style = new NetworkStyle(settings, mostLevels, late);
    List<String> account = new ArrayList<>();
    AtomicBoolean interrupted = new AtomicBoolean();
    Duration each = time.dividedBy(1 + lane.mostFolded());
    Design design =
        design(
            lane,
            Style.LUT_NETWORK,
            (table, prefixes, name) -> {
              TimedSearch<LaneMapping> search = style.search(table, prefixes);
              LaneMapping best = search.run(each, share -> {});
              search.account().forEach(line -> account.add(name + ", " + line));
              interrupted.compareAndSet(false, search.isInterrupted());
              return style.core(table, prefixes, name, best);
            });
    return new TimedDesign(design, account, interrupted.get());
  }

  /** Makes what follows so many prefixes. */
  @FunctionalInterface
  private interface Cores {
    LaneCore core(LaneTable table, int prefixes, String name);
  }

  private Design design(Predecoder lane, Style style, Cores made) {
    late.check(lane);
    if (style != Style.LUT_NETWORK && !late.isEmpty()) {
      throw new IllegalStateException(
          "realizer: late inputs need style lut_network, found " + style.label());
    }
    List<LaneCore> cores = new ArrayList<>();
    int unitBytes = lane.instructionSet().table().unit().bytes();
    for (int prefixes = 0; prefixes <= lane.mostFolded(); prefixes++) {
      LaneTable table = LaneTable.of(lane, prefixes);
      if (table.bytesSeen() >= unitBytes && table.mostBytes() > 0) {
        String name = lane.mostFolded() == 0 ? lane.name() : lane.name() + "_core" + prefixes;
        cores.add(made.core(table, prefixes, name));
      }
    }
    Circuit circuit =
        lane.mostFolded() == 0
            ? cores.get(0).circuit()
            : new FoldedLane(lane, style.label())
                .build(cores.stream().map(LaneCore::circuit).toList());
    return new Design(lane, style, device, circuit, cores);
  }

  /**
   * Makes a lane as networks of LUTs in fewer and fewer levels, for a choice between area and
   * clock: each has the fewest LUTs that were found in its levels. The objective does not count.
   *
   * @param lane what it handles
   * @return designs within the bound on levels, the fewest LUTs first, each of fewer levels and
   *     more LUTs than the one before; the first alone if none is within the bound
   * @throws CancelledException if the thread is interrupted
   */
  public List<Design> front(Predecoder lane) {
    return front(lane, Integer.MAX_VALUE);
  }

  /**
   * Makes a lane as networks of LUTs like {@link #front(Predecoder)}, as far as a user waits: the
   * network of the fewest LUTs and that of the fewest levels take seconds, each level less minutes
   * where LUTs have four inputs.
   *
   * @param lane what it handles
   * @param fewerLevels how often a level less than that of the fewest levels is asked for, at least
   *     0
   * @return see {@link #front(Predecoder)}
   * @throws IllegalArgumentException if the number is negative
   * @throws CancelledException if the thread is interrupted
   */
  public List<Design> front(Predecoder lane, int fewerLevels) {
    if (fewerLevels < 0) {
      throw new IllegalArgumentException(
          "realizer: the levels asked for must be at least 0, found " + fewerLevels);
    }
    Design smallest = withObjective(Objective.AREA).realize(lane, Style.LUT_NETWORK);
    Realizer depth = withObjective(Objective.DEPTH);
    // What few levels leave to LUTs is the better start for fewer still.
    Design flattest = depth.realize(lane, Style.LUT_NETWORK);
    AtomicInteger asked = new AtomicInteger();
    AtomicReference<Design> last = new AtomicReference<>(flattest);
    return LevelFront.of(
        smallest,
        mostLevels,
        design -> design.total().luts(),
        Design::delayLevels,
        levels ->
            flattest.delayLevels() <= levels || asked.getAndIncrement() >= fewerLevels
                ? flattest
                : last.updateAndGet(higher -> depth.withMostLevels(levels).lowered(higher)));
  }

  /** Makes a lane of networks that was made already in fewer levels. */
  private Design lowered(Design higher) {
    NetworkStyle style = new NetworkStyle(settings, mostLevels, late);
    Iterator<LaneCore> cores = higher.cores().iterator();
    return design(
        higher.lane(),
        Style.LUT_NETWORK,
        (table, prefixes, name) ->
            style.lowered(table, prefixes, name, cores.next().mapping().orElseThrow()));
  }

  /**
   * Makes a row of lanes.
   *
   * @param array the lanes, their marks and state
   * @param style what each lane is made of
   * @return the design
   * @throws IllegalStateException as {@link #realize(LaneArray, Design)}
   */
  public Design realize(LaneArray array, Style style) {
    return realize(array, realize(array.lane(), style));
  }

  /**
   * Makes a row of lanes from a lane that was made already.
   *
   * @param array the lanes, their marks and state
   * @param lane the lane, as this realizer makes it
   * @return the design, of the lane's style
   * @throws IllegalArgumentException if the lane is not that of the row
   * @throws IllegalStateException if its marks are by entry and counted in LUTs of more inputs than
   *     the device has
   */
  public Design realize(LaneArray array, Design lane) {
    if (lane.array().isPresent() || !lane.lane().equals(array.lane())) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "row %s: its lane %s is expected, found %s",
              array.name(),
              array.lane().name(),
              kind(lane, array.lane().name())));
    }
    if (array.marking() instanceof Marking.ByEntry marking
        && marking.lutInputs() > device.lutInputs()) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "row %s: marks by entry of LUTs of %d inputs need a device that has them, found %d",
              array.name(),
              marking.lutInputs(),
              device.lutInputs()));
    }
    LateModes late = new LateModes(array);
    Circuit circuit =
        new RowTop(array, late, Facts.of(array, lane.style().label()))
            .build(row(array, late, lane), MarkBlocks.of(array, late));
    return new Design(array, lane, circuit);
  }

  /** The lanes side by side. */
  private Circuit row(LaneArray array, LateModes late, Design lane) {
    Style style = lane.style();
    boolean sharing = array.lane().mostFolded() == 0;
    return new LaneBlocks(array, late)
        .build(
            sharing ? style(style).shared(array, late, lane.mapping()) : null,
            other -> other.equals(array.lane()) ? lane.circuit() : realize(other, style).circuit());
  }

  /**
   * Makes a fetch unit.
   *
   * @param unit the cache, the lanes and their marks
   * @param style what each lane is made of
   * @return the design
   * @throws DescriptionException if the device has no RAM of a kind that the cache needs
   */
  public Design realize(FetchUnit unit, Style style) {
    RamFit.of(unit.cache(), device); // refuses what does not fit before lanes take their time
    return realize(unit, realize(unit.row(), style));
  }

  /**
   * Makes a fetch unit from a row of lanes that was made already.
   *
   * @param unit the cache, the lanes and their marks
   * @param row the row, as this realizer makes it
   * @return the design, of the row's style
   * @throws IllegalArgumentException if the row is not that of the unit
   * @throws DescriptionException if the device has no RAM of a kind that the cache needs
   */
  public Design realize(FetchUnit unit, Design row) {
    if (row.unit().isPresent() || !row.array().equals(Optional.of(unit.row()))) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "fetch unit %s: its row %s is expected, found %s",
              unit.name(),
              unit.row().name(),
              kind(row, unit.row().name())));
    }
    RamFit fit = RamFit.of(unit.cache(), device); // refuses what does not fit
    LateModes late = new LateModes(unit.row());
    Circuit lanes = row.circuit().instances().get(0).circuit();
    Circuit array =
        unit.cache().predecode() instanceof PredecodePlace.Inline
            ? row.circuit()
            : new RowTop(unit.row(), late, Facts.of(unit.row(), row.style().label()))
                .buildBehind(lanes, MarkBlocks.of(unit.row(), late));
    Circuit cache = new CacheCore(unit, lanes, device.lutInputs(), fit).build();
    Circuit circuit = new FetchTop(unit, Facts.of(unit, row.style().label())).build(cache, array);
    return new Design(unit, row, circuit);
  }

  /** Says what a design is of; what is called as expected is another one of that name. */
  private static String kind(Design design, String expected) {
    String kind =
        design.unit().isPresent() ? "fetch unit " : design.array().isPresent() ? "row " : "lane ";
    return (design.name().equals(expected) ? "another " : "") + kind + design.name();
  }

  private LaneStyle style(Style style) {
    return switch (style) {
      case ROM -> new WordStyle(new RomWords());
      case BANKED -> new WordStyle(new BankedWords(device.lutInputs()));
      case LUT_NETWORK -> new NetworkStyle(settings, mostLevels, late);
    };
  }
}

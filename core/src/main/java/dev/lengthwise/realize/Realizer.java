package dev.lengthwise.realize;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.LaneMapper;
import dev.lengthwise.logic.LaneMapping;
import dev.lengthwise.logic.LaneShape;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.LaneTable;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.work.CancelledException;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Makes lanes, rows of lanes and fetch units into hardware. Immutable; the same lane, style,
 * device, effort and seed give the same design. A thread that is interrupted leaves every method
 * with a {@link CancelledException}.
 */
public final class Realizer {

  private final DeviceProfile device;
  private final Effort effort;
  private final Objective objective;
  private final int mostLevels;
  private final long seed;
  private final LaneMapper.Progress progress;

  private Realizer(
      DeviceProfile device,
      Effort effort,
      Objective objective,
      int mostLevels,
      long seed,
      LaneMapper.Progress progress) {
    this.device = Objects.requireNonNull(device, "device");
    this.effort = Objects.requireNonNull(effort, "effort");
    this.objective = Objects.requireNonNull(objective, "objective");
    this.mostLevels = mostLevels;
    this.seed = seed;
    this.progress = Objects.requireNonNull(progress, "progress");
  }

  /**
   * Returns a realizer of effort {@link Effort#QUICK}, objective {@link Objective#DEPTH} and seed
   * 1.
   *
   * @param device what designs are mapped to
   * @return the realizer
   */
  public static Realizer on(DeviceProfile device) {
    return new Realizer(
        device, Effort.QUICK, Objective.DEPTH, Integer.MAX_VALUE, 1, (attempts, best) -> {});
  }

  /**
   * Returns a realizer that spends more or less work on mapping.
   *
   * @param value the effort
   * @return a new realizer
   */
  public Realizer withEffort(Effort value) {
    return new Realizer(device, value, objective, mostLevels, seed, progress);
  }

  /**
   * Returns a realizer that minimises something else first.
   *
   * @param value levels or LUTs
   * @return a new realizer
   */
  public Realizer withObjective(Objective value) {
    return new Realizer(device, effort, value, mostLevels, seed, progress);
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
    return new Realizer(device, effort, objective, value, seed, progress);
  }

  /**
   * Returns a realizer whose searches start elsewhere.
   *
   * @param value the seed
   * @return a new realizer
   */
  public Realizer withSeed(long value) {
    return new Realizer(device, effort, objective, mostLevels, value, progress);
  }

  /**
   * Returns a realizer that reports how a search goes on.
   *
   * @param listener is told now and then
   * @return a new realizer
   */
  public Realizer withProgress(LaneMapper.Progress listener) {
    return new Realizer(device, effort, objective, mostLevels, seed, listener);
  }

  /**
   * Makes a lane.
   *
   * @param lane what it handles
   * @param style what it is made of
   * @return the design
   * @throws IllegalArgumentException if the style is {@link Style#LUT_NETWORK} and code units are
   *     not bytes
   */
  public Design realize(Predecoder lane, Style style) {
    List<DesignCore> cores = new ArrayList<>();
    int unitBytes = lane.instructionSet().table().unit().bytes();
    for (int prefixes = 0; prefixes <= lane.mostFolded(); prefixes++) {
      LaneTable table = LaneTable.of(lane, prefixes);
      if (table.bytesSeen() >= unitBytes && table.mostBytes() > 0) {
        String name = lane.mostFolded() == 0 ? lane.name() : lane.name() + "_core" + prefixes;
        cores.add(core(table, prefixes, name, style));
      }
    }
    Circuit circuit =
        lane.mostFolded() == 0
            ? cores.get(0).circuit()
            : new FoldedLane(lane, style).build(cores.stream().map(DesignCore::circuit).toList());
    return new Design(lane, style, device, circuit, cores);
  }

  /**
   * Makes a row of lanes.
   *
   * @param array the lanes, their marks and state
   * @param style what each lane is made of
   * @return the design
   * @throws IllegalArgumentException if the style is {@link Style#LUT_NETWORK} and code units are
   *     not bytes
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
    LateModes late = new LateModes(array);
    Circuit circuit =
        new ArrayTop(array, late, Facts.of(array, lane.style()))
            .build(row(array, late, lane), marks(array, late));
    return new Design(array, lane, circuit);
  }

  /** The lanes side by side. */
  private Circuit row(LaneArray array, LateModes late, Design lane) {
    Style style = lane.style();
    boolean sharing = array.lane().mostFolded() == 0;
    return new LaneBlocks(array, late)
        .build(
            sharing ? shared(array, late, lane) : null,
            other -> other.equals(array.lane()) ? lane.circuit() : realize(other, style).circuit());
  }

  /**
   * Makes a fetch unit.
   *
   * @param unit the cache, the lanes and their marks
   * @param style what each lane is made of
   * @return the design
   * @throws IllegalArgumentException if the style is {@link Style#LUT_NETWORK} and code units are
   *     not bytes
   * @throws DescriptionException if the device has no RAM of a kind that the cache needs
   */
  public Design realize(FetchUnit unit, Style style) {
    checkRam(unit);
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
    checkRam(unit);
    LateModes late = new LateModes(unit.row());
    Circuit lanes = row.circuit().instances().get(0).circuit();
    Circuit array =
        unit.cache().predecode() instanceof PredecodePlace.Inline
            ? row.circuit()
            : new ArrayTop(unit.row(), late, Facts.of(unit.row(), row.style()))
                .buildBehind(lanes, marks(unit.row(), late));
    Circuit cache = new CacheCore(unit, lanes, device.lutInputs()).build();
    Circuit circuit = new FetchTop(unit, Facts.of(unit, row.style())).build(cache, array);
    return new Design(unit, row, circuit);
  }

  /** Refuses what has no cost before anything of it is written. */
  private void checkRam(FetchUnit unit) {
    RamFit.of(unit.cache(), device);
  }

  /** Says what a design is of; what is called as expected is another one of that name. */
  private static String kind(Design design, String expected) {
    String kind =
        design.unit().isPresent() ? "fetch unit " : design.array().isPresent() ? "row " : "lane ";
    return (design.name().equals(expected) ? "another " : "") + kind + design.name();
  }

  private SharedLane shared(LaneArray array, LateModes late, Design lane) {
    return lane.style() == Style.LUT_NETWORK
        ? SharedLutLane.of(array, late, lane.mapping().orElseThrow())
        : SharedMapLane.of(array, late, lane.style(), words(lane.style()));
  }

  private WordLogic words(Style style) {
    return style == Style.ROM ? new RomWords() : new BankedWords(device.lutInputs());
  }

  private static Circuit marks(LaneArray array, LateModes late) {
    if (array.marking() instanceof Marking.First first) {
      return new FirstMarks(array, late, first.count()).build();
    }
    return ((Marking.Full) array.marking()).form() == Marking.Form.RIPPLE
        ? new RippleMarks(array, late).build()
        : new LogarithmicMarks(array, late).build();
  }

  private DesignCore core(LaneTable table, int prefixes, String name, Style style) {
    Predecoder lane = table.lane();
    if (style == Style.LUT_NETWORK) {
      LaneMapping mapping = mapping(table, prefixes);
      return DesignCore.of(table, new LutLane(lane, prefixes, name, mapping).build(), mapping);
    }
    return DesignCore.of(table, new MapCore(lane, prefixes, name, style, words(style)).build());
  }

  private LaneMapping mapping(LaneTable table, int prefixes) {
    LaneMapping best = Work.parallel(() -> best(table, prefixes));
    if (best.network().levels() <= mostLevels) {
      return best;
    }
    return LaneMapper.flatten(best, device.lutInputs(), mostLevels, effort, seed, progress);
  }

  /** The lane mapped as a whole, or the banked lane's gates covered with LUTs if that is better. */
  private LaneMapping best(LaneTable table, int prefixes) {
    Predecoder lane = table.lane();
    LaneShape shape = LaneShapes.of(table);
    int lutInputs = device.lutInputs();
    WordLogic banks = new BankedWords(lutInputs);
    Circuit banked = new MapCore(lane, prefixes, lane.name(), Style.BANKED, banks).build();
    Supplier<LaneMapping> cover = Work.beside(() -> GateCover.mapping(banked, shape, lutInputs));
    Optional<LaneMapping> mapped =
        LaneMapper.map(shape, lutInputs, objective, effort, seed, progress);
    LaneMapping covered = cover.get();
    if (mapped.isPresent() && mapped.get().isBetterThan(covered, objective)) {
      return mapped.get();
    }
    LaneMapping shrunk = LaneMapper.shrink(covered, lutInputs, effort, seed, progress);
    return mapped.filter(own -> own.isBetterThan(shrunk, objective)).orElse(shrunk);
  }
}

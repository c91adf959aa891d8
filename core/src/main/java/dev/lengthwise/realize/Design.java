package dev.lengthwise.realize;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.realize.cost.ClockEstimate;
import dev.lengthwise.realize.cost.FetchPath;
import dev.lengthwise.realize.cost.LaneCost;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.realize.lane.LaneCore;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/**
 * A lane, a row of lanes, or a fetch unit, made into hardware.
 *
 * <p>Immutable; cost, path and proof are computed when they are first asked for.
 */
public final class Design {

  private final Optional<FetchUnit> unit;
  private final Optional<LaneArray> array;
  private final Predecoder lane;
  private final Style style;
  private final DeviceProfile device;
  private final Circuit circuit;
  private final List<LaneCore> cores;
  private final Optional<Design> alone;

  /** Costs of the parts of rows of this lane, so that rows with the same part share the work. */
  private final Map<String, BlockCost> partCosts = new ConcurrentHashMap<>();

  private Costing costing;
  private List<FetchPath> paths;

  Design(
      Predecoder lane, Style style, DeviceProfile device, Circuit circuit, List<LaneCore> cores) {
    this.unit = Optional.empty();
    this.array = Optional.empty();
    this.alone = Optional.empty();
    this.lane = Objects.requireNonNull(lane, "lane");
    this.style = Objects.requireNonNull(style, "style");
    this.device = Objects.requireNonNull(device, "device");
    this.circuit = Objects.requireNonNull(circuit, "circuit");
    this.cores = List.copyOf(cores);
  }

  /** A row of lanes, each like the one that was made alone. */
  Design(LaneArray array, Design lane, Circuit circuit) {
    this.unit = Optional.empty();
    this.array = Optional.of(array);
    this.alone = Optional.of(lane);
    this.lane = lane.lane;
    this.style = lane.style;
    this.device = lane.device;
    this.circuit = Objects.requireNonNull(circuit, "circuit");
    this.cores = lane.cores;
  }

  /** A fetch unit around a row of lanes that was made before. */
  Design(FetchUnit unit, Design row, Circuit circuit) {
    this.unit = Optional.of(unit);
    this.array = row.array;
    this.alone = Optional.of(row);
    this.lane = row.lane;
    this.style = row.style;
    this.device = row.device;
    this.circuit = Objects.requireNonNull(circuit, "circuit");
    this.cores = row.cores;
  }

  /**
   * Returns the design's name.
   *
   * @return the name of the fetch unit, of the row of lanes, or of the lane
   */
  public String name() {
    return circuit.name();
  }

  /**
   * Returns the fetch unit.
   *
   * @return the unit, or empty if the design is a row of lanes or a lane
   */
  public Optional<FetchUnit> unit() {
    return unit;
  }

  /**
   * Returns the row of lanes.
   *
   * @return the row, that of the fetch unit included, or empty if the design is a single lane
   */
  public Optional<LaneArray> array() {
    return array;
  }

  /**
   * Returns what the design, or each lane of its row, handles.
   *
   * @return the lane
   */
  public Predecoder lane() {
    return lane;
  }

  /**
   * Returns what the design is made of.
   *
   * @return the style
   */
  public Style style() {
    return style;
  }

  /**
   * Returns what the design is mapped to.
   *
   * @return the device
   */
  public DeviceProfile device() {
    return device;
  }

  /**
   * Returns the hardware.
   *
   * @return a circuit with the design's name
   */
  public Circuit circuit() {
    return circuit;
  }

  /**
   * Returns the estimated cost.
   *
   * @return one for each block, the whole design last; of a row of lanes: a lane alone, the lanes
   *     of the row together, the marks, and the whole with its state; of a fetch unit: the cache,
   *     lanes inside it included, the lanes and marks behind it, and the whole
   */
  public List<BlockCost> cost() {
    return costing().blocks();
  }

  /**
   * Returns the estimated cost of the whole design.
   *
   * @return the last of {@link #cost()}
   */
  public BlockCost total() {
    return cost().get(cost().size() - 1);
  }

  /**
   * Returns the estimated cost of the whole design without the time that a proof takes, for
   * searches that look at many designs.
   *
   * @return the figures of {@link #total()}, but {@code proved} is false
   */
  public BlockCost unprovedTotal() {
    return Costing.unproved(this, cores);
  }

  /**
   * Returns what a lane of a row costs.
   *
   * @return the figures, or empty if the design is no row of lanes
   */
  public Optional<LaneCost> laneCost() {
    return (unit.isPresent() ? Optional.<LaneArray>empty() : array)
        .map(
            row ->
                new LaneCost(
                    cost().get(0).luts(), cost().get(1).luts() / (double) row.windowBytes()));
  }

  /**
   * Returns a longest path.
   *
   * @return from an input to an output
   */
  public List<PathStep> criticalPath() {
    return costing().path();
  }

  /**
   * Estimates the clock from register to register, with registers before the inputs and behind the
   * outputs, by the delays of the device. The longest path of a fetch unit is taken to begin at
   * block RAM.
   *
   * @return a range, and the path that sets it
   */
  public ClockEstimate clock() {
    return ClockEstimate.of(device, unit.isPresent(), total().luts(), criticalPath());
  }

  /**
   * Returns the paths of a fetch unit from registers or RAM to registers, step by step.
   *
   * @return the paths, or empty if the design is no fetch unit
   */
  public List<FetchPath> paths() {
    return unit.isPresent() ? computedPaths() : List.of();
  }

  private synchronized List<FetchPath> computedPaths() {
    if (paths == null) {
      paths = FetchPaths.of(this);
    }
    return paths;
  }

  /**
   * Explains how the LUTs of the design came about, so that a designer can check it by hand: the
   * inputs of each LUT, what it says, and the codes that pass between blocks.
   *
   * @return lines of text
   */
  public List<String> explain() {
    return Explanation.of(this, cores);
  }

  /**
   * Returns the levels of a lane, counted from when its first input is there, by what signals take.
   */
  int delayLevels() {
    return cores.stream().allMatch(core -> core.delays().equals(DelayModel.LEVELS))
        ? total().levels()
        : cores.stream().mapToInt(LaneCore::levels).max().orElse(0);
  }

  /** Returns what a lane is made of, for each number of prefixes that it looks through. */
  List<LaneCore> cores() {
    return cores;
  }

  /** Returns the LUT network that a lane without folded prefixes was made from, if it was. */
  Optional<LaneMapping> mapping() {
    return cores.size() == 1 ? cores.get(0).mapping() : Optional.empty();
  }

  Map<String, BlockCost> partCosts() {
    return partCosts;
  }

  private synchronized Costing costing() {
    if (costing == null) {
      costing =
          unit.isPresent()
              ? Costing.ofUnit(this)
              : alone.isPresent() ? Costing.ofRow(this, alone.get()) : Costing.of(this, cores);
    }
    return costing;
  }

  @Override
  public String toString() {
    return "design " + name() + " in style " + style.label();
  }
}

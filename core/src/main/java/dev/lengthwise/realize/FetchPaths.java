package dev.lengthwise.realize;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.gates.Restructuring;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.realize.cost.FetchPath;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.realize.fetch.FetchProbes;
import dev.lengthwise.realize.gates.FlatGates;
import dev.lengthwise.realize.row.RowTop;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.IntStream;

/** Accounts for the paths of a fetch unit, from its circuit's gates. */
final class FetchPaths {

  private static final String CACHE = FetchProbes.inCache("");
  private static final String ARRAY = FetchProbes.LANES_AND_MARKS + "/";

  /** What the instance of lanes is called, before the way multiplexer, on fill, or behind it. */
  private static final Set<String> LANES =
      Set.of(RowTop.ROW, FetchProbes.wayRow(0), FetchProbes.FILL_ROW);

  private final FetchUnit unit;
  private final DeviceProfile device;
  private final Circuit row;
  private final int ways;
  private final FlatGates gates;
  private final int[] arrivals;
  private Map<String, Integer> levels;

  private FetchPaths(Design design) {
    this.unit = design.unit().orElseThrow();
    this.device = design.device();
    this.ways = unit.cache().geometry().ways();
    this.row = rowOf(design.circuit());
    this.gates = FlatGates.of(design.circuit(), device.lutInputs(), points(), this::isEnd);
    this.arrivals = new int[gates.network().inputNames().size()];
    settle();
  }

  static List<FetchPath> of(Design design) {
    return new FetchPaths(design).paths();
  }

  /** The block of lanes, wherever it is. */
  private static Circuit rowOf(Circuit unit) {
    for (Circuit.Instance block : unit.instances()) {
      for (Circuit.Instance inside : block.circuit().instances()) {
        if (LANES.contains(inside.name())) {
          return inside.circuit();
        }
      }
    }
    throw new IllegalStateException("paths of " + unit.name() + ": lanes are needed, found none");
  }

  /** The registers at the ends of paths, and the addresses of LUT RAM on the way. */
  private boolean isEnd(String output) {
    boolean register =
        output.endsWith(".d") || output.endsWith(".enable") || output.endsWith(".clear");
    return (output.startsWith(ARRAY) && register)
        || (output.startsWith(CACHE) && register && output.indexOf('/', CACHE.length()) < 0)
        || IntStream.range(0, ways).anyMatch(way -> output.equals(tagAddress(way)));
  }

  private boolean isPerWay() {
    return unit.cache().predecode() instanceof PredecodePlace.PerWay;
  }

  private boolean isOnFill() {
    return unit.cache().predecode() instanceof PredecodePlace.OnFill;
  }

  private boolean isAhead() {
    return unit.cache().tags() == TagPlace.DISTRIBUTED_RAM;
  }

  private List<String> points() {
    List<String> points =
        new ArrayList<>(
            List.of(
                FetchProbes.selected(), FetchProbes.hits(), FetchProbes.hit(), FetchProbes.way()));
    points.addAll(lanes());
    return points;
  }

  /** What the lanes say, in all rows that there are. */
  private List<String> lanes() {
    List<String> rows = new ArrayList<>();
    if (isPerWay()) {
      for (int way = 0; way < ways; way++) {
        rows.add(FetchProbes.inCache(FetchProbes.wayRow(way)));
      }
    } else {
      rows.add(isOnFill() ? FetchProbes.inCache(FetchProbes.FILL_ROW) : ARRAY + RowTop.ROW);
    }
    List<String> lanes = new ArrayList<>();
    for (String each : rows) {
      for (Port port : row.ports()) {
        if (port.direction() == Port.Direction.OUTPUT) {
          lanes.add(each + "." + port.key());
        }
      }
    }
    return lanes;
  }

  /** Computes levels again until reads of LUT RAM come behind their addresses. */
  private void settle() {
    boolean changes = true;
    while (changes) {
      int[] found =
          Restructuring.forInputs(device.lutInputs())
              .withArrivals(arrivals)
              .levelsOf(gates.network());
      levels = new LinkedHashMap<>();
      gates
          .outputs()
          .forEach(
              (name, bits) ->
                  levels.put(name, Arrays.stream(bits).map(bit -> found[bit]).max().orElse(0)));
      changes = false;
      // The state of replacement is on none of the paths.
      for (int way = 0; isAhead() && way < ways; way++) {
        int arrival = level(tagAddress(way)) + ramLevels();
        for (int bit : probe(gates.inputs(), tagWord(way))) {
          changes |= arrival != arrivals[bit];
          arrivals[bit] = arrival;
        }
      }
    }
  }

  private static String tagWord(int way) {
    return FetchProbes.tagsOf(way) + ".word0";
  }

  private static String tagAddress(int way) {
    return FetchProbes.tagsOf(way) + ".address0";
  }

  /** Returns what is known of a place; one that is missing would lose a path in silence. */
  private <T> T probe(Map<String, T> places, String name) {
    T found = places.get(name);
    if (found == null) {
      throw new IllegalStateException(
          "paths of "
              + unit.name()
              + ": a place in the circuit is expected, found none at "
              + name);
    }
    return found;
  }

  /** A read of LUT RAM: a level, and those of the multiplexers behind its banks. */
  private int ramLevels() {
    int rows =
        device.distributedRams().stream()
            .mapToInt(DeviceProfile.RamShape::depth)
            .max()
            .orElse(1 << device.lutInputs());
    int joined = device.lutInputs() >= 6 ? 4 : 2;
    int levels = 1;
    for (int banks = (unit.cache().geometry().sets() + rows - 1) / rows; banks > 1; ) {
      banks = (banks + joined - 1) / joined;
      levels++;
    }
    return levels;
  }

  /** Returns the level of a signal inside. */
  private int point(String name) {
    return level("@" + name);
  }

  private int level(String output) {
    return probe(levels, output);
  }

  /** The level at the registers of the marks and behind them. */
  private int registers() {
    return most(
        "registers of the marks",
        name ->
            name.startsWith(ARRAY)
                && (name.endsWith(".d") || name.endsWith(".clear"))
                && !name.startsWith(ARRAY + RowTop.HELD));
  }

  /** The level at the registers of the cache itself: whether the stream goes on, and where. */
  private int control() {
    return most("registers of the cache", name -> name.startsWith(CACHE));
  }

  private int most(String what, Predicate<String> isOne) {
    return levels.entrySet().stream()
        .filter(entry -> isOne.test(entry.getKey()))
        .mapToInt(Map.Entry::getValue)
        .max()
        .orElseThrow(
            () ->
                new IllegalStateException(
                    "paths of " + unit.name() + ": " + what + " are expected, found none"));
  }

  private List<FetchPath> paths() {
    int selected = point(FetchProbes.selected());
    int lanes = lanes().stream().mapToInt(this::point).max().orElseThrow();
    List<FetchPath> paths = new ArrayList<>(List.of(compare()));
    if (isPerWay()) {
      List<PathStep> beside =
          List.of(step("data ram", 0), step("lanes", lanes), step("way select", selected));
      paths.add(new FetchPath("lanes beside the compare", ending(beside, selected)));
    } else if (isOnFill()) {
      paths.add(path("fill", step("beat", 0), step("lanes", lanes), step("data ram", lanes)));
    }
    paths.add(lookup(selected, lanes));
    if (isCut()) {
      int marks = registers();
      paths.add(
          path("marks", step("lanes register", 0), step("marks", marks), step("register", marks)));
    }
    return List.copyOf(paths);
  }

  /** The path through the comparison of tags to a register. */
  private FetchPath compare() {
    int hits = point(FetchProbes.hits());
    int hit = point(FetchProbes.hit());
    if (isAhead()) {
      return path(
          "compare ahead",
          step("address register", 0),
          step("tag ram", arrivals[probe(gates.inputs(), tagWord(0))[0]]),
          step("tag compare", hits),
          step("hit combine", hit),
          step("register", hit));
    }
    return path(
        "next address",
        step("tag ram", 0),
        step("tag compare", hits),
        step("hit combine", hit),
        step("register", control()));
  }

  /** The path of a window to the marks. */
  private FetchPath lookup(int selected, int lanes) {
    List<PathStep> steps = new ArrayList<>();
    if (isAhead()) {
      steps.add(step("way register", 0));
    } else {
      steps.add(step("tag ram", 0));
      steps.add(step("tag compare", point(FetchProbes.hits())));
      steps.add(step("hit combine", point(FetchProbes.way())));
    }
    steps.add(step("way select", selected));
    if (!isPerWay() && !isOnFill()) {
      steps.add(step("lanes", lanes));
    }
    return new FetchPath("lookup", ending(steps, steps.get(steps.size() - 1).level()));
  }

  private static FetchPath path(String name, PathStep... steps) {
    return new FetchPath(name, List.of(steps));
  }

  private static PathStep step(String what, int level) {
    return new PathStep(what, level);
  }

  private boolean isCut() {
    return unit.row().cuts().contains(PipelineCut.AFTER_LANES);
  }

  /** Adds the marks, if no cut is before them, and the register at the end. */
  private List<PathStep> ending(List<PathStep> steps, int level) {
    List<PathStep> all = new ArrayList<>(steps);
    int end = level;
    if (!isCut()) {
      end = registers();
      all.add(new PathStep("marks", end));
    }
    all.add(new PathStep("register", end));
    return List.copyOf(all);
  }
}

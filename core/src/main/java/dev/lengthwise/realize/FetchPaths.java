package dev.lengthwise.realize;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.decompose.CutMapper;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.realize.cost.FetchPath;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.realize.gates.FlatGates;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Accounts for the paths of a fetch unit, from its circuit's gates. */
final class FetchPaths {

  private static final String CACHE = "window_cache/";
  private static final String ARRAY = "lanes_and_marks/";

  private final FetchUnit unit;
  private final DeviceProfile device;
  private final Circuit row;
  private final int ways;
  private final LutNetwork gates;
  private final int[] arrivals;
  private Map<String, Integer> levels;

  private FetchPaths(Design design) {
    this.unit = design.unit().orElseThrow();
    this.device = design.device();
    this.ways = unit.cache().geometry().ways();
    this.row = rowOf(design.circuit());
    this.gates = FlatGates.of(design.circuit(), device.lutInputs(), points(), FetchPaths::isEnd);
    this.arrivals = new int[gates.inputNames().size()];
    settle();
  }

  static List<FetchPath> of(Design design) {
    return new FetchPaths(design).paths();
  }

  /** The block of lanes, wherever it is. */
  private static Circuit rowOf(Circuit unit) {
    for (Circuit.Instance block : unit.instances()) {
      for (Circuit.Instance inside : block.circuit().instances()) {
        if (inside.name().equals("row")
            || inside.name().equals("row_0")
            || inside.name().equals("fill_row")) {
          return inside.circuit();
        }
      }
    }
    throw new IllegalStateException("paths of " + unit.name() + ": lanes are needed, found none");
  }

  /** The registers at the ends of paths, and the addresses of LUT RAM on the way. */
  private static boolean isEnd(String output) {
    boolean register = output.endsWith(".d") || output.endsWith(".enable");
    return (output.startsWith(ARRAY) && register)
        || (output.startsWith(CACHE) && register && output.indexOf('/', CACHE.length()) < 0)
        || output.endsWith("/tags.address0");
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
    List<String> points = new ArrayList<>(List.of(CACHE + "selected"));
    points.add(CACHE + "tag_compare.hits");
    points.add(CACHE + "tag_compare.hit");
    points.add(CACHE + "tag_compare.way");
    points.addAll(lanes());
    return points;
  }

  /** What the lanes say, in all rows that there are. */
  private List<String> lanes() {
    List<String> rows = new ArrayList<>();
    if (isPerWay()) {
      for (int way = 0; way < ways; way++) {
        rows.add(CACHE + "row_" + way);
      }
    } else {
      rows.add(isOnFill() ? CACHE + "fill_row" : ARRAY + "row");
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
      int[] found = CutMapper.levels(gates, device.lutInputs(), arrivals);
      levels = new LinkedHashMap<>();
      for (int i = 0; i < found.length; i++) {
        levels.merge(stem(gates.outputs().get(i).name()), found[i], Math::max);
      }
      changes = false;
      for (int input = 0; input < arrivals.length; input++) {
        int arrival = arrival(stem(gates.inputNames().get(input)));
        changes |= arrival != arrivals[input];
        arrivals[input] = arrival;
      }
    }
  }

  /** Returns a name without the number of a bit. */
  private static String stem(String name) {
    int end = name.lastIndexOf('_');
    boolean number = end >= 0 && name.substring(end + 1).matches("[0-9]+");
    return number && !name.startsWith("@") ? name.substring(0, end) : name;
  }

  private int arrival(String input) {
    boolean tags = isAhead() && input.matches(".*/way_tags_[0-9]+/tags\\.word0");
    if (!tags) {
      return 0; // the state of replacement is on none of the paths
    }
    return levels.get(input.replace(".word", ".address")) + ramLevels();
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

  private int level(List<String> points) {
    int level = 0;
    for (Map.Entry<String, Integer> entry : levels.entrySet()) {
      for (String point : points) {
        String name = "@" + point;
        if (entry.getKey().equals(name)
            || (entry.getKey().startsWith(name + "_")
                && entry.getKey().substring(name.length() + 1).matches("[0-9]+"))) {
          level = Math.max(level, entry.getValue());
        }
      }
    }
    return level;
  }

  /** The level at the registers of the marks and behind them. */
  private int registers() {
    return levels.entrySet().stream()
        .filter(e -> e.getKey().startsWith(ARRAY) && e.getKey().endsWith(".d"))
        .filter(e -> !e.getKey().startsWith(ARRAY + "held_"))
        .mapToInt(Map.Entry::getValue)
        .max()
        .orElse(0);
  }

  /** The level at the registers of the cache itself: whether the stream goes on, and where. */
  private int control() {
    return levels.entrySet().stream()
        .filter(e -> e.getKey().startsWith(CACHE))
        .mapToInt(Map.Entry::getValue)
        .max()
        .orElse(0);
  }

  private List<FetchPath> paths() {
    int selected = level(List.of(CACHE + "selected"));
    int lanes = level(lanes());
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
    int hits = level(List.of(CACHE + "tag_compare.hits"));
    int hit = level(List.of(CACHE + "tag_compare.hit"));
    if (isAhead()) {
      return path(
          "compare ahead",
          step("address register", 0),
          step("tag ram", arrivals[inputOf("/tags.word0")]),
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
      steps.add(step("tag compare", level(List.of(CACHE + "tag_compare.hits"))));
      steps.add(step("hit combine", level(List.of(CACHE + "tag_compare.way"))));
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

  private int inputOf(String suffix) {
    for (int input = 0; input < arrivals.length; input++) {
      if (stem(gates.inputNames().get(input)).endsWith(suffix)) {
        return input;
      }
    }
    throw new IllegalStateException(
        String.format(
            Locale.ROOT,
            "paths of %s: an input is expected, found none for %s",
            unit.name(),
            suffix));
  }
}

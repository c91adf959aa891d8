package dev.lengthwise.lane;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.lane.compose.AlignedLane;
import dev.lengthwise.lane.compose.HandledLane;
import dev.lengthwise.lane.compose.PartMapper;
import dev.lengthwise.lane.encode.EncodingConstraints;
import dev.lengthwise.lane.encode.LaneAssembly;
import dev.lengthwise.lane.encode.LengthEncoding;
import dev.lengthwise.lane.encode.MapEncoder;
import dev.lengthwise.lane.encode.MapEncoderWiring;
import dev.lengthwise.lane.encode.SpecifierEncoding;
import dev.lengthwise.lane.function.AlignedFunction;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LaneShrink;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Maps a lane to LUTs by choosing the codes across its blocks.
 *
 * <p>Each opcode map becomes a front block that says roles and length bits, each operand specifier
 * a code of one level, which select LUTs pass on where it counts; the length is read from select
 * bits, length bits and the late modes at the end, without an adder. Wirings are drawn; a
 * satisfiability solver finds tables and codes for each or shows that there are none. Work is
 * counted in attempts, so a result depends on the arguments only.
 */
public final class LaneMapper {

  private static final int MOST_LENGTH_BITS = 6;

  /** The most LUTs looked at to shrink a lane: in a large one each takes longer. */
  private static final int MOST_STEPS = 1_000_000;

  /** The conflicts spent to find out whether codes exist at all. */
  private static final int CODE_CONFLICTS = 2_000;

  /**
   * The levels that a walk may have beyond its start where LUTs count first and are small: so lanes
   * took up to 6% fewer LUTs of four inputs, but no fewer of six.
   */
  private static final int SPARE_LEVELS = 4;

  private static final int MOST_INPUTS_FOR_SPARE_LEVELS = 5;

  /** The searches for a level less that may fail. */
  private static final int LEVEL_SEARCHES = 2;

  /** The LUTs up to which a search for a level less takes a second or two if it fails. */
  private static final int FEW_LUTS = 8;

  /** The wirings that are tried together, on as many threads as there are. */
  private static final int TRIES_AT_ONCE = 5;

  /** The plans of a block that may fail before a search gives up. */
  private static final int MOST_FAILURES = 2;

  /** The specifier codes looked at: with some of them no length code is possible. */
  private static final int MOST_SPECIFIER_CODES = 6;

  /** The most maps that one map escapes to: their codes meet in one table before it is split. */
  private static final int MOST_ESCAPES = 12;

  /** The places of a specifier from which on it may be brought to one place first. */
  private static final int LEAST_PLACES = 3;

  /**
   * The inputs of the LUTs that codes are chosen for: smaller LUTs have room for too few columns,
   * so blocks are coded for these and then mapped one by one.
   */
  private static final int LEAST_STRUCTURE_INPUTS = 6;

  private final LaneFunction shape;
  private final MapperSettings settings;
  private final int mostLevels;
  private final int structureInputs;
  private int attempts;
  private Optional<LaneMapping> best = Optional.empty();
  private final MapEncoderWiring.Plan[] good;

  private LaneMapper(LaneFunction shape, MapperSettings settings, int mostLevels) {
    this.shape = shape;
    this.settings = settings;
    this.mostLevels = mostLevels;
    this.structureInputs = Math.max(LEAST_STRUCTURE_INPUTS, settings.lutInputs());
    this.good = new MapEncoderWiring.Plan[shape.codedMaps().size()];
  }

  /**
   * Maps a lane.
   *
   * @param shape the function
   * @param settings what for, and how much to search
   * @param mostLevels the levels beyond which no walk for fewer LUTs goes; codes may need more
   * @return the mapping, proved; empty if no codes were found with that effort, or one map escapes
   *     to more than {@value #MOST_ESCAPES} others
   * @throws CancelledException if the thread is interrupted
   */
  public static Optional<LaneMapping> map(
      LaneFunction shape, MapperSettings settings, int mostLevels) {
    return Work.parallel(() -> best(shape, settings, mostLevels));
  }

  /** Maps by codes, or composes the lane of others where there are too many maps or places. */
  private static Optional<LaneMapping> best(
      LaneFunction shape, MapperSettings settings, int mostLevels) {
    PartMapper parts =
        (part, inputs) -> best(part, settings.with(settings.delays().ofInputs(inputs)), mostLevels);
    boolean deep = settings.objective() == Objective.AREA;
    if (shape.codedMaps().stream().anyMatch(map -> escapes(map) > MOST_ESCAPES)) {
      return deep
          ? HandledLane.map(shape, settings, parts).map(own -> shrink(own, settings, mostLevels))
          : Optional.empty();
    }
    Optional<LaneMapping> aligned =
        AlignedFunction.of(shape)
            .filter(parted -> parted.offsets().size() >= LEAST_PLACES)
            .flatMap(parted -> AlignedLane.map(shape, parted, settings, parts))
            .map(own -> shrink(own, settings, mostLevels));
    if (aligned.isPresent() && deep) {
      return aligned;
    }
    Optional<LaneMapping> coded = new LaneMapper(shape, settings, mostLevels).run();
    if (aligned.isEmpty() || coded.isEmpty()) {
      return aligned.or(() -> coded);
    }
    // It has a level more to go through, but often fewer LUTs once that is won back.
    int levels = settings.delays().levels(coded.get().network());
    LaneMapping flat =
        settings.delays().levels(aligned.get().network()) > levels
            ? flatten(aligned.get(), levels, settings)
            : aligned.get();
    return flat.isBetterThan(coded.get(), settings.order()) ? Optional.of(flat) : coded;
  }

  /**
   * Shrinks a mapping across its blocks. Where LUTs count first and are small, the result may have
   * some levels more.
   *
   * @param mapping a mapping, found in any way
   * @param settings no fewer LUT inputs than any LUT of the mapping has; the listener is told after
   *     each round of rewriting
   * @param mostLevels the levels beyond which the result has none that the mapping has not
   * @return a mapping, proved, of no more LUTs; of no more levels unless it has fewer LUTs
   * @throws CancelledException if the thread is interrupted
   */
  public static LaneMapping shrink(LaneMapping mapping, MapperSettings settings, int mostLevels) {
    int steps = steps(mapping, settings.effort().looks());
    int delay = settings.delays().delay(mapping.network());
    boolean deepens =
        settings.objective() == Objective.AREA
            && settings.lutInputs() <= MOST_INPUTS_FOR_SPARE_LEVELS;
    int room = Math.max(0, settings.delayOf(mostLevels) - delay);
    int spare = deepens ? Math.min(settings.delayOf(SPARE_LEVELS), room) : 0;
    return Work.parallel(() -> rewriter(mapping, settings).run(mapping, steps, spare));
  }

  /**
   * Lowers the levels of a mapping, by further LUTs where it must, and shrinks it again.
   *
   * @param mapping a mapping, found in any way
   * @param mostLevels the levels at which to stop, at least 1
   * @param settings see {@link #shrink}
   * @return a mapping of no more levels, proved; of more than {@code mostLevels} if none was found
   * @throws CancelledException if the thread is interrupted
   */
  public static LaneMapping flatten(LaneMapping mapping, int mostLevels, MapperSettings settings) {
    LaneMapping flat = flatten(mapping, mostLevels, settings, LEVEL_SEARCHES);
    return shrink(flat, settings, mostLevels);
  }

  /**
   * Lowers the levels of a mapping of few LUTs as far as is found at once: in larger ones that
   * takes longer than to map them.
   *
   * @param mapping a mapping, found in any way
   * @param settings see {@link #shrink}
   * @return a mapping of fewer levels if it was found, proved
   * @throws CancelledException if the thread is interrupted
   */
  public static LaneMapping flattenSmall(LaneMapping mapping, MapperSettings settings) {
    return mapping.network().luts().size() > FEW_LUTS ? mapping : flatten(mapping, 1, settings, 1);
  }

  private static LaneMapping flatten(
      LaneMapping mapping, int mostLevels, MapperSettings settings, int searches) {
    Effort effort = settings.effort();
    var search =
        new LaneShrink.LevelSearch(
            searches, effort.levelTries(), steps(mapping, effort.looksALevel()));
    int mostDelay = settings.delayOf(mostLevels);
    return Work.parallel(() -> rewriter(mapping, settings).flatten(mapping, mostDelay, search));
  }

  private static int steps(LaneMapping mapping, int looks) {
    return Math.min(MOST_STEPS, looks * mapping.network().luts().size());
  }

  private static LaneShrink rewriter(LaneMapping mapping, MapperSettings settings) {
    AtomicInteger rounds = new AtomicInteger();
    return new LaneShrink(
        mapping.shape(),
        settings.lutInputs(),
        settings.delays(),
        settings.seed(),
        luts -> {
          int round = rounds.incrementAndGet();
          Work.tell(() -> settings.progress().report(round, luts));
        });
  }

  private Optional<LaneMapping> run() {
    int late = lateModes();
    List<SpecifierEncoding> specifiers = specifierCodes(late);
    List<LengthEncoding> candidates = new ArrayList<>();
    int lengthBits = 0;
    for (int bits = 0; bits <= MOST_LENGTH_BITS && candidates.isEmpty(); bits++) {
      for (SpecifierEncoding code : specifiers) {
        LengthEncoding codes = new LengthEncoding(shape, late, code);
        if (bits >= codes.leastLengthBits()
            && new EncodingConstraints(codes, bits).isCodable(CODE_CONFLICTS)) {
          candidates.add(codes);
        }
      }
      lengthBits = bits;
    }
    int failed = 0;
    for (int round = 0;
        round < settings.effort().codeRounds() && !candidates.isEmpty() && failed < 2;
        round++) {
      LengthEncoding codes = candidates.get(round % candidates.size());
      failed += round(codes, lengthBits, new Random(settings.seed() * 1000003 + round)) ? 0 : 1;
    }
    if (best.isEmpty()) {
      number(late);
    }
    return best.map(mapping -> shrink(mapping, settings, mostLevels));
  }

  private static long escapes(LaneFunction.CodeMap map) {
    return map.outcomes().stream().filter(LaneFunction.Escape.class::isInstance).distinct().count();
  }

  /** Maps with codes that are numbered, which always works and is rarely best. */
  private void number(int late) {
    SpecifierEncoding code = shape.specifiers() == 0 ? null : spareCode(late);
    int spare = code == null ? 0 : code.spareCode();
    LengthEncoding codes = new LengthEncoding(shape, late, code);
    int most = Math.max(codes.families().size(), codes.lengths().size());
    int bits = Integer.SIZE - Integer.numberOfLeadingZeros(Math.max(0, most - 1));
    if (bits > MOST_LENGTH_BITS) {
      return;
    }
    EncodingConstraints link = new EncodingConstraints(codes, bits);
    link.number(spare);
    MapEncoder[] blocks = new MapEncoder[shape.codedMaps().size()];
    MapEncoder.Solved[] solved = new MapEncoder.Solved[blocks.length];
    for (int map = 0; map < blocks.length; map++) {
      blocks[map] = new MapEncoder(codes, map, bits, false);
      Wiring wide = new MapEncoderWiring(blocks[map], structureInputs).wide();
      solved[map] = blocks[map].numbered(wide, link, spare);
    }
    keep(new LaneAssembly(codes, blocks, solved, link, settings.with(Effort.QUICK)).build());
  }

  /** Returns a code that no specifier uses all of. */
  private SpecifierEncoding spareCode(int late) {
    SpecifierEncoding.Search search = new SpecifierEncoding.Search(shape, structureInputs, late);
    var spareLimits = new SpecifierEncoding.Limits(1, settings.seed(), 1000, 100, 100);
    for (int bits = search.leastBits(); bits <= search.leastBits() + 1; bits++) {
      List<SpecifierEncoding> found = search.find(bits, true, spareLimits);
      if (!found.isEmpty()) {
        return found.get(0);
      }
    }
    return search.wide();
  }

  private void keep(LaneMapping mapping) {
    if (best.isEmpty() || mapping.isBetterThan(best.get(), settings.order())) {
      best = Optional.of(mapping);
    }
    report();
  }

  /** Modes go to the end if many rows depend on them and the sum LUTs have room. */
  private int lateModes() {
    int late = 0;
    for (int m = 0; m < shape.modes().size(); m++) {
      int rows = 0;
      for (LaneFunction.CodeMap map : shape.codedMaps()) {
        for (LaneFunction.Outcome outcome : map.outcomes()) {
          if (outcome instanceof LaneFunction.Bytes row) {
            boolean changes = false;
            for (int word = 0; word < shape.modeWords(); word++) {
              changes |= !row.byModes().get(word).equals(row.byModes().get(word ^ 1 << m));
            }
            rows += changes ? 1 : 0;
          }
        }
      }
      late |= rows > 8 ? 1 << m : 0;
    }
    return late;
  }

  private List<SpecifierEncoding> specifierCodes(int late) {
    if (shape.specifiers() == 0) {
      return Collections.singletonList(null);
    }
    SpecifierEncoding.Search search = new SpecifierEncoding.Search(shape, structureInputs, late);
    int further = settings.effort().specifierWirings();
    var limits =
        new SpecifierEncoding.Limits(MOST_SPECIFIER_CODES, settings.seed(), 2000, 1500, further);
    for (int bits = search.leastBits(); bits <= 6; bits++) {
      for (boolean spare : new boolean[] {true, false}) {
        List<SpecifierEncoding> found = search.find(bits, spare, limits);
        if (!found.isEmpty()) {
          return found;
        }
      }
    }
    return List.of(search.wide());
  }

  /** Solves the maps, the richest first; tells whether that gave a network. */
  private boolean round(LengthEncoding codes, int lengthBits, Random random) {
    int maps = shape.codedMaps().size();
    MapEncoder[] blocks = new MapEncoder[maps];
    MapEncoder.Solved[] solved = new MapEncoder.Solved[maps];
    EncodingConstraints link = new EncodingConstraints(codes, lengthBits);
    List<Integer> order = new ArrayList<>();
    for (int map = 0; map < maps; map++) {
      order.add(map);
    }
    order.sort(Comparator.comparingInt(map -> -codes.map(map).classes().size()));
    for (int map : order) {
      blocks[map] = new MapEncoder(codes, map, lengthBits, true);
      solved[map] = search(map, blocks[map], link, random);
      if (solved[map] == null) {
        return false;
      }
      link = solved[map].link();
    }
    keep(new LaneAssembly(codes, blocks, solved, link, settings).build());
    return true;
  }

  private void report() {
    int made = attempts;
    int luts = best.map(b -> b.network().luts().size()).orElse(0);
    Work.tell(() -> settings.progress().report(made, luts));
  }

  /** Goes down the plans from the dearest until one fails. */
  private MapEncoder.Solved search(
      int map, MapEncoder block, EncodingConstraints link, Random random) {
    MapEncoderWiring wiring = new MapEncoderWiring(block, structureInputs);
    MapEncoder.Solved found = null;
    int failed = 0;
    for (MapEncoderWiring.Plan plan : plans(block, wiring)) {
      if (found == null && failed >= MOST_FAILURES) {
        break;
      }
      if (good[map] != null && wiring.cost(plan) > wiring.cost(good[map])) {
        continue;
      }
      MapEncoder.Solved next = tryPlan(block, wiring, plan, link, random);
      if (next == null && found != null && settings.effort() == Effort.QUICK) {
        break;
      }
      failed += next == null ? 1 : 0;
      if (next != null) {
        found = next;
        if (good[map] == null || wiring.cost(plan) < wiring.cost(good[map])) {
          good[map] = plan;
        }
      }
    }
    return found;
  }

  private List<MapEncoderWiring.Plan> plans(MapEncoder block, MapEncoderWiring wiring) {
    List<MapEncoderWiring.Plan> plans = new ArrayList<>();
    int classes = wiring.sharedClassLuts();
    int staged = block.merges() ? block.lengthBits() : 0;
    boolean sharedFits = classes + 8 - structureInputs <= structureInputs;
    if (sharedFits) {
      // A mode that no output has room for beside all classes goes through LUTs of its own.
      int modeLuts = staged == 0 && wiring.readsModes() ? 2 : 0;
      for (int m = modeLuts; m > 0; m--) {
        plans.add(new MapEncoderWiring.Plan(classes, true, m, staged));
      }
      for (int s = staged; s >= 0 && modeLuts == 0; s--) {
        plans.add(new MapEncoderWiring.Plan(classes, true, 0, s));
      }
    }
    if (staged == 0) {
      for (int c = Math.min(classes, structureInputs - 1); c >= 2; c--) {
        plans.add(new MapEncoderWiring.Plan(c, false, 0, 0));
      }
    } else if (!sharedFits) {
      for (int s = staged; s >= 0; s--) {
        plans.add(new MapEncoderWiring.Plan(structureInputs - 1, false, 0, s));
      }
    }
    return plans;
  }

  /** Tries wirings a few at a time; the first in the order drawn counts, so threads do not. */
  private MapEncoder.Solved tryPlan(
      MapEncoder block,
      MapEncoderWiring wiring,
      MapEncoderWiring.Plan plan,
      EncodingConstraints link,
      Random random) {
    int tries = settings.effort().wiringTries();
    int conflicts = settings.effort().wiringConflicts();
    for (int i = 0; i < tries; i += TRIES_AT_ONCE) {
      List<MapEncoderWiring.Drawn> drawn = new ArrayList<>();
      for (int k = 0; k < Math.min(TRIES_AT_ONCE, tries - i); k++) {
        drawn.add(wiring.draw(plan, random));
      }
      attempts += drawn.size();
      Optional<MapEncoder.Solved> solved =
          drawn.parallelStream()
              .map(d -> block.attempt(d, link, conflicts))
              .flatMap(attempt -> attempt.solved().stream())
              .findFirst();
      report();
      if (solved.isPresent()) {
        return solved.get();
      }
    }
    return null;
  }
}

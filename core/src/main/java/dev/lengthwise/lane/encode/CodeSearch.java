package dev.lengthwise.lane.encode;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.exact.Wiring;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * Searches codes across the blocks of a lane.
 *
 * <p>Each opcode map becomes a front block that says roles and length bits, each operand specifier
 * a code of one level, which select LUTs pass on where it counts; the length is read from select
 * bits, length bits and the late modes at the end, without an adder. Wirings are drawn; a
 * satisfiability solver finds tables and codes for each or shows that there are none.
 */
public final class CodeSearch {

  private static final int MOST_LENGTH_BITS = 6;

  /** The conflicts spent to find out whether codes exist at all. */
  private static final int CODE_CONFLICTS = 2_000;

  /** The wirings that are tried together, on as many threads as there are. */
  private static final int TRIES_AT_ONCE = 5;

  /** The plans of a block that may fail before a search gives up. */
  private static final int MOST_FAILURES = 2;

  /** The specifier codes looked at: with some of them no length code is possible. */
  private static final int MOST_SPECIFIER_CODES = 6;

  /**
   * The inputs of the LUTs that codes are chosen for: smaller LUTs have room for too few columns,
   * so blocks are coded for these and then mapped one by one.
   */
  private static final int LEAST_STRUCTURE_INPUTS = 6;

  private final LaneFunction shape;
  private final MapperSettings settings;
  private final int structureInputs;
  private int attempts;
  private Optional<LaneMapping> best = Optional.empty();
  private final MapEncoderWiring.Plan[] good;

  /**
   * Prepares a search.
   *
   * @param shape the lane
   * @param settings what for, and how much to search
   */
  public CodeSearch(LaneFunction shape, MapperSettings settings) {
    this.shape = shape;
    this.settings = settings;
    this.structureInputs = Math.max(LEAST_STRUCTURE_INPUTS, settings.lutInputs());
    this.good = new MapEncoderWiring.Plan[shape.codedMaps().size()];
  }

  /**
   * Searches, and puts the blocks together.
   *
   * @return the smallest lane found, proved; with numbered codes if no others are found, empty if
   *     there are too many for that
   */
  public Optional<LaneMapping> run() {
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
    return best;
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

package dev.lengthwise.lane.encode;

import dev.lengthwise.logic.exact.ColumnChart;
import dev.lengthwise.logic.exact.Wiring;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/**
 * Draws wirings of a front block.
 *
 * <p>First come class LUTs that read the map's byte. On them and a few bits read again stand the
 * role bits and, if the map has no escape, the length bits. With escapes a length bit is one level
 * later and merges the length bits of the maps escaped to; it reads a LUT of its own behind the
 * class LUTs (<em>staged</em>), or the class LUTs and role bits directly, which saves a LUT.
 */
final class MapEncoderWiring {

  /**
   * How many LUTs a wiring has.
   *
   * @param classLuts the LUTs at the first level
   * @param shared whether all of them read one bound set, which nothing else reads
   * @param modeLuts further LUTs at the first level, which read a mode and some bits
   * @param staged how many length bits are staged
   */
  record Plan(int classLuts, boolean shared, int modeLuts, int staged) {

    Plan {
      if (modeLuts > 0 && !shared) {
        throw new IllegalArgumentException(
            "plan: mode luts need shared class luts, found " + modeLuts);
      }
    }
  }

  /**
   * A wiring.
   *
   * @param plan what it was drawn for
   * @param columns the columns of the bound set that the class LUTs share
   */
  record Drawn(Wiring topology, Plan plan, Optional<ColumnChart> columns) {

    /** Returns the columns if only class LUTs read the bound set, so that these stand for it. */
    Optional<ColumnChart> alone() {
      return columns.filter(c -> plan.modeLuts() == 0);
    }

    /** Returns for each class LUT and entry of its table the one that it copies. */
    int[][] tied() {
      return columns
          .map(c -> Collections.nCopies(plan.classLuts(), c.representatives()))
          .orElse(List.of())
          .toArray(int[][]::new);
    }
  }

  private final MapEncoder block;
  private final int lutInputs;
  private final List<ColumnChart> boundSets = new ArrayList<>();

  MapEncoderWiring(MapEncoder block, int lutInputs) {
    this.block = block;
    this.lutInputs = lutInputs;
    int size = Math.min(lutInputs, 7);
    for (int[] set : MapEncoder.subsets(8, size)) {
      boundSets.add(block.columns(set));
    }
    boundSets.sort(java.util.Comparator.comparingInt(ColumnChart::count));
  }

  /** Returns the bits of a code that tells the columns of the best bound set apart. */
  int sharedClassLuts() {
    return Integer.SIZE - Integer.numberOfLeadingZeros(boundSets.get(0).count() - 1);
  }

  boolean readsModes() {
    return !mattering().isEmpty();
  }

  int cost(Plan plan) {
    return plan.classLuts()
        + plan.modeLuts()
        + block.roleBits()
        + block.lengthBits()
        + plan.staged();
  }

  /** Draws the fan-ins of all LUTs of a plan. */
  Drawn draw(Plan plan, Random random) {
    int sources = block.sources();
    List<int[]> fanIns = new ArrayList<>();
    Optional<ColumnChart> columns =
        plan.shared() ? Optional.of(drawColumns(plan, random)) : Optional.empty();
    List<Integer> again = drawClasses(plan, columns, fanIns, random);
    for (int i = 0; i < plan.modeLuts(); i++) {
      fanIns.add(fill(mattering(), shuffled(range(0, 8), random), random));
    }
    int[] outputs = new int[block.roleBits() + block.lengthBits()];
    drawRoles(plan, again, fanIns, outputs, random);
    drawLengths(plan, again, fanIns, outputs, random);
    return new Drawn(new Wiring(sources, fanIns.toArray(new int[0][]), outputs), plan, columns);
  }

  /** Adds LUTs for the classes of the code, and returns the bits of it that others read again. */
  private List<Integer> drawClasses(
      Plan plan, Optional<ColumnChart> columns, List<int[]> fanIns, Random random) {
    int mask = 0;
    if (columns.isPresent()) {
      for (int bit : columns.get().boundSet()) {
        mask |= 1 << bit;
      }
      for (int i = 0; i < plan.classLuts(); i++) {
        fanIns.add(columns.get().boundSet());
      }
    } else {
      List<int[]> sets = MapEncoder.subsets(8, Math.min(lutInputs, 8));
      for (int i = 0; i < plan.classLuts(); i++) {
        fanIns.add(sets.get(random.nextInt(sets.size())));
      }
    }
    List<Integer> again = new ArrayList<>();
    for (int bit = 0; bit < 8; bit++) {
      if ((mask >> bit & 1) == 0) {
        again.add(bit);
      }
    }
    return again;
  }

  private List<Integer> classes(Plan plan) {
    return range(block.sources(), plan.classLuts());
  }

  private void drawRoles(
      Plan plan, List<Integer> again, List<int[]> fanIns, int[] outputs, Random random) {
    List<Integer> modeLuts = range(block.sources() + plan.classLuts(), plan.modeLuts());
    for (int r = 0; r < block.roleBits(); r++) {
      outputs[r] = block.sources() + fanIns.size();
      if (plan.modeLuts() == 0) {
        fanIns.add(fill(classes(plan), withModes(again, 7, random), random));
      } else {
        List<Integer> pool = new ArrayList<>(again);
        pool.addAll(classes(plan));
        fanIns.add(fill(modeLuts, shuffled(pool, random), random));
      }
    }
  }

  /** Adds the bits of the length: of the map's own, then merged with those of maps behind it. */
  private void drawLengths(
      Plan plan, List<Integer> again, List<int[]> fanIns, int[] outputs, Random random) {
    boolean escapes = block.merges();
    int[] stagedLut = new int[block.lengthBits()];
    for (int b = 0; b < block.lengthBits(); b++) {
      if (!escapes || b < plan.staged()) {
        stagedLut[b] = block.sources() + fanIns.size();
        outputs[block.roleBits() + b] = stagedLut[b];
        List<Integer> pool = withModes(again, plan.modeLuts() > 0 ? 0 : 2, random);
        fanIns.add(fill(classes(plan), pool, random));
      }
    }
    int firstRole = block.sources() + plan.classLuts() + plan.modeLuts();
    List<Integer> roles = range(firstRole, block.roleBits());
    for (int b = 0; b < block.lengthBits() && escapes; b++) {
      List<Integer> first = new ArrayList<>();
      for (int e = 0; e < block.escapes().length; e++) {
        first.add(block.escapeSource(e, b));
      }
      List<Integer> pool = new ArrayList<>(again);
      pool.addAll(classes(plan));
      if (b < plan.staged()) {
        first.add(stagedLut[b]);
        first.addAll(roles);
      } else {
        pool.addAll(roles);
      }
      outputs[block.roleBits() + b] = block.sources() + fanIns.size();
      fanIns.add(fill(first, withModes(pool, 2, random), random));
    }
  }

  private ColumnChart drawColumns(Plan plan, Random random) {
    int fitting = 0;
    while (fitting < boundSets.size() && boundSets.get(fitting).count() <= 1 << plan.classLuts()) {
      fitting++;
    }
    return boundSets.get(random.nextInt(Math.max(1, fitting)));
  }

  /** Puts each mode that matters first in so many of eight draws, else last. */
  private List<Integer> withModes(List<Integer> pool, int often, Random random) {
    List<Integer> result = shuffled(pool, random);
    for (int mode : mattering()) {
      result.add(random.nextInt(8) < often ? 0 : result.size(), mode);
    }
    return result;
  }

  private static List<Integer> shuffled(List<Integer> pool, Random random) {
    List<Integer> result = new ArrayList<>(pool);
    Collections.shuffle(result, random);
    return result;
  }

  private List<Integer> mattering() {
    List<Integer> modes = new ArrayList<>();
    for (int m = 0; m < block.modes(); m++) {
      if (block.modeMatters(m)) {
        modes.add(block.modeSource(m));
      }
    }
    return modes;
  }

  private static List<Integer> range(int from, int count) {
    List<Integer> result = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      result.add(from + i);
    }
    return result;
  }

  private int[] fill(List<Integer> first, List<Integer> pool, Random random) {
    List<Integer> result = new ArrayList<>(first);
    while (result.size() > lutInputs) {
      result.remove(random.nextInt(result.size()));
    }
    for (int i = 0; i < pool.size() && result.size() < lutInputs; i++) {
      result.add(pool.get(i));
    }
    return result.stream().mapToInt(Integer::intValue).toArray();
  }

  /** Returns the wiring in which each output is one wide LUT of all sources. */
  Wiring wide() {
    int sources = block.sources();
    List<Integer> all = range(0, block.modeSource(0));
    all.addAll(mattering());
    int count = block.roleBits() + block.lengthBits();
    int[][] fanIns = new int[count][];
    int[] outputs = new int[count];
    for (int o = 0; o < count; o++) {
      fanIns[o] = all.stream().mapToInt(Integer::intValue).toArray();
      outputs[o] = sources + o;
    }
    return new Wiring(sources, fanIns, outputs);
  }
}

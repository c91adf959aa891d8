package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.covering.CoveringProblem;
import dev.lengthwise.logic.covering.CoveringSolver;
import dev.lengthwise.logic.words.OutputWords;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;

/**
 * The heuristic way: one cover, improved by turns.
 *
 * <p>Expand: drop literals of a term while it touches no 0, then let it feed every output that it
 * may. Thin out: remove terms whose points others hold. Reduce: shrink each term to what it holds
 * alone, so that it can expand another way. Terms met on the way are pooled, and at the end the
 * best part of the pool is chosen as a covering problem, if that is small enough.
 */
final class ExpandReduceSearch {

  private static final int TRIES = 5;
  private static final long MOST_CELLS = 60_000_000;
  private static final int MOST_POOLED = 20_000;
  private static final int MOST_BOUND_TERMS = 400;
  private static final CoveringSolver.Effort POOL = new CoveringSolver.Effort(30_000, 100, 0);

  private static final Comparator<List<Cube>> FEWER =
      Comparator.comparingInt((List<Cube> c) -> c.size())
          .thenComparingInt(c -> c.stream().mapToInt(Cube::literals).sum());

  private final OutputWords spec;
  private final Random random;
  private final long everyOutput;
  private final Set<Cube> pool = new LinkedHashSet<>();
  private CoverageCount count;

  ExpandReduceSearch(OutputWords spec, long seed) {
    this.spec = spec;
    this.random = new Random(seed);
    this.everyOutput = spec.outputs() == Long.SIZE ? -1L : (1L << spec.outputs()) - 1;
    this.count = new CoverageCount(spec);
  }

  TwoLevelResult run(int passes) {
    List<Cube> cover = thinOut(first());
    List<Cube> best = cover;
    for (int pass = 0; pass < passes; pass++) {
      Work.check();
      cover = thinOut(expand(reduce(cover)));
      if (FEWER.compare(cover, best) < 0) {
        best = cover;
      }
    }
    best = bestOfPool(best);
    best = new CoverTrim(spec).trim(best);
    best.sort(
        Comparator.comparingInt(Cube::fixed)
            .thenComparingInt(Cube::value)
            .thenComparingLong(Cube::outputs));
    int bound = independent(best.size());
    return new TwoLevelResult(new Cover(spec.inputs(), spec.outputs(), best), bound, false);
  }

  /** Walks over the points and expands a term from each that is not held yet. */
  private List<Cube> first() {
    List<Cube> cover = new ArrayList<>();
    int all = spec.points() - 1;
    for (int p = 0; p < spec.points(); p++) {
      Work.check();
      for (long open = count.open(p); open != 0; open = count.open(p)) {
        Cube best = expand(all, p, open);
        for (long o = open; o != 0 && Long.bitCount(open) > 1; o &= o - 1) {
          Cube other = expand(all, p, Long.lowestOneBit(o));
          best = count.gain(other) > count.gain(best) ? other : best;
        }
        cover.add(best);
        count.add(best);
      }
    }
    return cover;
  }

  private List<Cube> reduce(List<Cube> cover) {
    List<Cube> order = new ArrayList<>(cover);
    Collections.shuffle(order, random);
    List<Cube> result = new ArrayList<>();
    for (Cube cube : order) {
      Work.check();
      Cube smaller = count.reduced(cube);
      count.remove(cube);
      if (smaller != null) {
        count.add(smaller);
        result.add(smaller);
      }
    }
    return result;
  }

  private List<Cube> expand(List<Cube> cover) {
    List<Cube> order = new ArrayList<>(cover);
    order.sort(Comparator.comparingInt(c -> -c.literals()));
    List<Cube> result = new ArrayList<>();
    for (Cube cube : order) {
      Work.check();
      if (count.alone(cube) == 0) {
        count.remove(cube);
        continue;
      }
      count.remove(cube);
      Cube wider = expand(cube.fixed(), cube.value(), cube.outputs());
      count.add(wider);
      result.add(wider);
    }
    return result;
  }

  private List<Cube> thinOut(List<Cube> cover) {
    List<Cube> order = new ArrayList<>(cover);
    Collections.shuffle(order, random);
    order.sort(Comparator.comparingInt(c -> -c.literals()));
    List<Cube> result = new ArrayList<>();
    for (Cube cube : order) {
      Work.check();
      if (count.alone(cube) == 0) {
        count.remove(cube);
      } else {
        result.add(cube);
      }
    }
    return result;
  }

  /** Expands a term in several orders and returns the most useful prime. */
  private Cube expand(int fixed, int value, long outputs) {
    Cube best = null;
    long bestGain = -1;
    long mayFeed = spec.allowed(fixed, value, everyOutput);
    for (int t = 0; t < TRIES; t++) {
      int left = fixed;
      int kept = fixed;
      long target = target(t, outputs, mayFeed);
      while (left != 0) {
        int bit = pick(left);
        left &= ~bit;
        int wider = kept & ~bit;
        if (spec.allowed(kept, (value ^ bit) & kept, target) == target) {
          kept = wider;
        }
      }
      long feeds = spec.allowed(kept, value & kept, everyOutput);
      Cube cube = new Cube(spec.inputs(), kept, value & kept, feeds);
      long gain = count.gain(cube);
      if (pool.size() < MOST_POOLED) {
        pool.add(cube);
      }
      if (gain > bestGain) {
        best = cube;
        bestGain = gain;
      }
    }
    return best;
  }

  /** Few outputs let literals go, many outputs share the term: tries in between both. */
  private long target(int attempt, long outputs, long mayFeed) {
    return switch (attempt) {
      case 0, 1 -> outputs;
      case 2 -> mayFeed;
      default -> outputs | (mayFeed & random.nextLong());
    };
  }

  private int pick(int bits) {
    int left = bits;
    for (int skip = random.nextInt(Integer.bitCount(bits)); skip > 0; skip--) {
      left &= left - 1;
    }
    return Integer.lowestOneBit(left);
  }

  private List<Cube> bestOfPool(List<Cube> best) {
    pool.addAll(best);
    List<Cube> cubes = new ArrayList<>(pool);
    if (spec.neededCount() * cubes.size() > MOST_CELLS) {
      return new ArrayList<>(best);
    }
    CoveringProblem matrix = PrimeChart.of(spec, cubes);
    List<Integer> known = new ArrayList<>();
    for (int c = 0; c < cubes.size(); c++) {
      if (best.contains(cubes.get(c))) {
        known.add(c);
      }
    }
    List<Integer> chosen = new CoveringSolver(POOL).solve(matrix, known).columns();
    int[] costs =
        cubes.stream().mapToInt(c -> TwoLevelMinimizer.TERM_COST + c.literals()).toArray();
    List<Integer> cheap = matrix.withCost(costs).cheapened(chosen);
    return new ArrayList<>(cheap.stream().map(cubes::get).toList());
  }

  /** Returns a number of needed points of which no two fit in one term; a valid lower bound. */
  private int independent(int terms) {
    if (terms > MOST_BOUND_TERMS) {
      return Math.min(terms, 1);
    }
    List<int[]> chosen = new ArrayList<>();
    for (int p = 0; p < spec.points(); p++) {
      for (long left = spec.needed(p); left != 0; left &= left - 1) {
        int output = Long.numberOfTrailingZeros(left);
        boolean apart = true;
        for (int i = 0; apart && i < chosen.size(); i++) {
          int q = chosen.get(i)[0];
          long both = 1L << output | 1L << chosen.get(i)[1];
          int fixed = ~(p ^ q) & (spec.points() - 1);
          apart = spec.allowed(fixed, p & fixed, both) != both;
        }
        if (apart) {
          chosen.add(new int[] {p, output});
        }
      }
    }
    return chosen.size();
  }
}

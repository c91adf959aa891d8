package dev.lengthwise.study.advice;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.study.sweep.VariantSpace;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** One run of an {@link Advisor}. */
final class AdviceSearch implements AutoCloseable {

  /** How often a finalist may be over the LUTs allowed before the search gives up. */
  private static final int MOST_RETRIES = 8;

  /** The most escapes of which all sets are tried. */
  private static final int MOST_CROSSED = 6;

  /** For each finalist, how many additions to the best one are tried at a time. */
  private static final int FILLS = 3;

  private final StudyStream stream;
  private final SearchWeights weights;
  private final List<LaneChoice> starts = new ArrayList<>();
  private final SearchCosts costs;
  private final RowShrink shrink;

  AdviceSearch(String name, StudyStream stream, Realizer realizer, SearchSpace space, int threads) {
    HdlName.require("lane", name);
    this.stream = stream;
    InstructionSet set = stream.instructionSet();
    List<RowUnit> units = RowUnit.of(set.table());
    this.weights = new SearchWeights(stream, units);
    this.costs =
        new SearchCosts(
            realizer,
            space.style(),
            threads,
            weights.opening(),
            choice -> choice.lane(name, set, units));
    this.shrink = new RowShrink(weights, costs);
    for (PrefixTreatment treatment : space.prefixes()) {
      for (SpecifierDepth depth : space.depths()) {
        LaneChoice start =
            new LaneChoice(treatment, depth, space.undefined(), VariantSpace.ALL, new BitSet());
        starts.add(start);
        int used = weights.longestExact(start);
        if (used > 0 && used < start.lane(name, set, units).longest()) {
          starts.add(start.withLongest(used));
        }
      }
    }
  }

  @Override
  public void close() {
    costs.close();
  }

  /** Finds the lane that is exact most often among those of at most so many LUTs. */
  Advice within(int luts, int finalists) {
    List<LaneChoice> kept = unbeatenStarts();
    Optional<LaneChoice> best = Optional.empty();
    for (int tries = 0; tries < (best.isEmpty() ? finalists + MOST_RETRIES : finalists); tries++) {
      LaneChoice found = mostExact(kept, luts).orElseGet(() -> smallest(kept));
      boolean known = costs.isRealized(found);
      if (costs.luts(found) <= luts && (best.isEmpty() || isPreferred(found, best.get()))) {
        best = Optional.of(found);
      }
      if (known) {
        break;
      }
    }
    LaneChoice found =
        best.orElseThrow(
            () ->
                new IllegalStateException(
                    String.format(
                        Locale.ROOT,
                        "advisor: no lane of at most %d LUTs was found, the smallest start has %d",
                        luts,
                        costs.luts(smallest(kept)))));
    // A network takes long to realise, and what fits is known from the start.
    int fills = costs.isMeasured(found) ? finalists : FILLS * finalists;
    LaneChoice before;
    do {
      before = found;
      found = shrink.filled(found, luts, fills);
    } while (!found.equals(before));
    return advice(found);
  }

  /**
   * Returns where to shrink from: every treatment and depth, with and without maps that only
   * escapes reach, and with and without the rows that the stream does not use.
   */
  private List<LaneChoice> unbeatenStarts() {
    costs.calibrate(starts);
    List<LaneChoice> kept = unbeaten(starts);
    List<LaneChoice> more = new ArrayList<>();
    for (LaneChoice start : kept) {
      more.addAll(closings(start));
    }
    kept = unbeaten(more);
    more.clear();
    for (LaneChoice start : kept) {
      more.add(start);
      more.add(start.without(unused(start, weights.forks(start))));
      more.add(start.without(unused(start, weights.handled(start))));
    }
    return unbeaten(more);
  }

  /**
   * Returns a start with maps closed: every set of escapes left out where costs are measured, as
   * maps read together may share their codes; otherwise one escape after the other.
   */
  private List<LaneChoice> closings(LaneChoice start) {
    List<LaneChoice> closings = new ArrayList<>(List.of(start));
    List<Integer> escapes = dearestEscapes(start);
    boolean all = costs.isMeasured(start) && escapes.size() <= MOST_CROSSED;
    for (int escape : escapes) {
      List<LaneChoice> open = closings.subList(all ? 0 : closings.size() - 1, closings.size());
      closings.addAll(open.stream().map(choice -> choice.without(List.of(escape))).toList());
    }
    return closings;
  }

  /** Returns the escapes, those first that cost most LUTs for what they are worth. */
  private List<Integer> dearestEscapes(LaneChoice start) {
    List<Integer> escapes = weights.escapes(start);
    costs.expect(escapes.stream().map(e -> start.without(List.of(e))).toList());
    return escapes.stream()
        .sorted(Comparator.comparingDouble(e -> worthOfALut(start, start.without(List.of(e)))))
        .toList();
  }

  private double worthOfALut(LaneChoice more, LaneChoice fewer) {
    return (weights.worth(more) - weights.worth(fewer))
        / Math.max(0.5, costs.expected(more) - costs.expected(fewer));
  }

  private List<Integer> unused(LaneChoice start, List<Integer> units) {
    return units.stream().filter(u -> weights.loss(start, u) == 0).toList();
  }

  /** Leaves out choices for which another one is expected to be as small and exact as often. */
  private List<LaneChoice> unbeaten(List<LaneChoice> choices) {
    costs.expect(choices);
    List<LaneChoice> kept = new ArrayList<>();
    for (LaneChoice choice : choices) {
      if (kept.stream().noneMatch(k -> isBeaten(choice, k))) {
        kept.removeIf(k -> isBeaten(k, choice));
        kept.add(choice);
      }
    }
    return kept;
  }

  private boolean isBeaten(LaneChoice a, LaneChoice b) {
    return costs.expected(b) <= costs.expected(a) && weights.worth(b) >= weights.worth(a);
  }

  private LaneChoice smallest(List<LaneChoice> choices) {
    return choices.stream().min(Comparator.comparingInt(costs::expected)).orElseThrow();
  }

  /** Returns the choice that is exact most often among those expected to fit. */
  private Optional<LaneChoice> mostExact(List<LaneChoice> kept, int room) {
    LaneChoice best = null;
    List<LaneChoice> large = new ArrayList<>();
    for (LaneChoice start : kept) {
      if (!costs.mayFit(start, room)) {
        large.add(start);
      } else if (best == null || isPreferred(start, best)) {
        best = start;
      }
    }
    // Single rows left out make a network irregular: only if no set of whole maps fits.
    if (best != null && costs.isMeasured(best)) {
      return Optional.of(best);
    }
    large.sort(
        Comparator.comparingDouble((LaneChoice c) -> -weights.worth(c))
            .thenComparing(costs::expected));
    for (LaneChoice start : large) {
      double floor = best == null ? -1 : weights.worth(best);
      if (weights.worth(start) > floor) {
        best = shrink.into(start, room, floor).orElse(best);
      }
    }
    return Optional.ofNullable(best);
  }

  private boolean isPreferred(LaneChoice a, LaneChoice b) {
    double worthA = weights.worth(a);
    double worthB = weights.worth(b);
    return worthA != worthB ? worthA > worthB : costs.expected(a) < costs.expected(b);
  }

  /** Finds the lane of fewest LUTs among those that are exact for a share. */
  Advice reaching(double share, int finalists) {
    long needed = (long) Math.ceil(share * stream.profile().executed());
    if (starts.stream().allMatch(start -> weights.exact(start) < needed)) {
      long most = starts.stream().mapToLong(weights::exact).max().orElse(0);
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "advisor: no lane is exact for a share of %.6f, the most is %.6f",
              share,
              most / (double) stream.profile().executed()));
    }
    List<LaneChoice> kept =
        unbeatenStarts().stream().filter(start -> weights.exact(start) >= needed).toList();
    List<LaneChoice> candidates = new ArrayList<>();
    for (LaneChoice start : kept) {
      candidates.add(start);
      candidates.addAll(shrink.keeping(start, needed));
    }
    costs.expect(candidates);
    return advice(
        candidates.stream()
            .distinct()
            .sorted(Comparator.comparingInt(costs::expected))
            .limit(finalists)
            .min(Comparator.comparingInt(costs::luts))
            .orElseThrow());
  }

  private Advice advice(LaneChoice choice) {
    Design design = costs.design(choice);
    return new Advice(
        design,
        design.unprovedTotal(),
        stream.accuracy(design.lane()),
        weights.worth(choice),
        costs.estimated(),
        costs.realized());
  }
}

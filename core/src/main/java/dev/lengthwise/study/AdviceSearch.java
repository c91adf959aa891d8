package dev.lengthwise.study;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** One run of an {@link Advisor}. */
final class AdviceSearch implements AutoCloseable {

  /** How often a finalist may be over the LUTs allowed before the search gives up. */
  private static final int MOST_RETRIES = 8;

  private final CodeStream stream;
  private final SearchWeights weights;
  private final List<LaneChoice> starts = new ArrayList<>();
  private final SearchCosts costs;
  private final RowShrink shrink;

  AdviceSearch(
      String name,
      CodeStream stream,
      Realizer realizer,
      Style style,
      List<PrefixTreatment> prefixes,
      List<SpecifierDepth> depths,
      UndefinedRows undefined,
      int threads) {
    HdlName.require("lane", name);
    this.stream = stream;
    InstructionSet set = stream.instructionSet();
    List<RowUnit> units = RowUnit.of(set.table());
    this.weights = new SearchWeights(stream, units);
    this.costs =
        new SearchCosts(realizer, style, threads, choice -> choice.lane(name, set, units));
    this.shrink = new RowShrink(weights, costs, units.size());
    for (PrefixTreatment treatment : prefixes) {
      for (SpecifierDepth depth : depths) {
        LaneChoice start =
            new LaneChoice(treatment, depth, undefined, VariantSpace.ALL, new BitSet());
        starts.add(start);
        int used = weights.longestExact(start);
        Predecoder lane = start.lane(name, set, units);
        if (used > 0 && used < lane.longest()) {
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
    Optional<LaneChoice> best = Optional.empty();
    int room = luts;
    int fits = 0;
    int tooLarge = Integer.MAX_VALUE;
    int tries = 0;
    while (tries < finalists || best.isEmpty() && tries < finalists + MOST_RETRIES) {
      LaneChoice found = mostExact(room).orElse(null);
      if (found == null) {
        if (best.isPresent() || tries > 0 && room < smallestStart()) {
          break;
        }
        found = smallest();
      }
      tries++;
      int estimate = costs.estimate(found);
      int real = costs.luts(found);
      if (real <= luts) {
        fits = Math.max(fits, estimate);
        if (best.isEmpty() || isBetter(found, best.get())) {
          best = Optional.of(found);
        }
      } else {
        tooLarge = Math.min(tooLarge, estimate);
      }
      int next = (int) Math.min((long) luts * estimate / Math.max(1, real), tooLarge - 1L);
      if (next <= fits || next == room) {
        break;
      }
      room = next;
    }
    return advice(
        best.orElseThrow(
            () ->
                new IllegalStateException(
                    "advisor: no lane of at most %d LUTs was found, the smallest tried has %d"
                        .formatted(luts, costs.luts(smallest())))));
  }

  private boolean isBetter(LaneChoice a, LaneChoice b) {
    long exactA = weights.exact(a);
    long exactB = weights.exact(b);
    return exactA != exactB ? exactA > exactB : costs.luts(a) < costs.luts(b);
  }

  private LaneChoice smallest() {
    return starts.stream().min(Comparator.comparingInt(costs::estimate)).orElseThrow();
  }

  private int smallestStart() {
    return costs.estimate(smallest());
  }

  /** Returns the choice that is exact most often among those whose estimate is in a room. */
  private Optional<LaneChoice> mostExact(int room) {
    Map<LaneChoice, Integer> estimates = costs.estimates(starts);
    LaneChoice best = null;
    List<LaneChoice> large = new ArrayList<>();
    for (LaneChoice start : starts) {
      if (estimates.get(start) > room) {
        large.add(start);
      } else if (best == null || isPreferred(start, best)) {
        best = start;
      }
    }
    large.sort(
        Comparator.comparingLong((LaneChoice c) -> -weights.exact(c))
            .thenComparing(estimates::get));
    for (LaneChoice start : large) {
      long floor = best == null ? -1 : weights.exact(best);
      if (weights.exact(start) > floor) {
        Optional<LaneChoice> shrunk = shrink.into(start, room, floor);
        if (shrunk.isPresent() && (best == null || isPreferred(shrunk.get(), best))) {
          best = shrunk.get();
        }
      }
    }
    return Optional.ofNullable(best);
  }

  private boolean isPreferred(LaneChoice a, LaneChoice b) {
    long exactA = weights.exact(a);
    long exactB = weights.exact(b);
    return exactA != exactB ? exactA > exactB : costs.estimate(a) < costs.estimate(b);
  }

  /** Finds the lane of fewest LUTs among those that are exact for a share. */
  Advice reaching(double share, int finalists) {
    long needed = (long) Math.ceil(share * stream.instructions());
    List<LaneChoice> enough =
        starts.stream().filter(start -> weights.exact(start) >= needed).toList();
    if (enough.isEmpty()) {
      long most = starts.stream().mapToLong(weights::exact).max().orElse(0);
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "advisor: no lane is exact for a share of %.6f, the most is %.6f",
              share,
              most / (double) stream.instructions()));
    }
    costs.estimates(enough);
    List<LaneChoice> candidates = new ArrayList<>();
    for (LaneChoice start : enough) {
      candidates.add(start);
      candidates.addAll(shrink.keeping(start, needed));
    }
    costs.estimates(candidates);
    return advice(
        candidates.stream()
            .distinct()
            .sorted(Comparator.comparingInt(costs::estimate))
            .limit(finalists)
            .min(Comparator.comparingInt(costs::luts))
            .orElseThrow());
  }

  private Advice advice(LaneChoice choice) {
    Design design = costs.design(choice);
    return new Advice(
        design,
        design.unprovedTotal(),
        stream.shares(design.lane()),
        costs.estimated(),
        costs.realized());
  }
}

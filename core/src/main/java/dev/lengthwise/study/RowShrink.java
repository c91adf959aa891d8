package dev.lengthwise.study;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Removes rows from a choice: to fit a room, or to be as small as an accuracy lets it. */
final class RowShrink {

  /** The most units whose removal is tried, those lost least first. */
  private static final int MOST_UNITS = 72;

  private final SearchWeights weights;
  private final SearchCosts costs;
  private final int units;

  RowShrink(SearchWeights weights, SearchCosts costs, int units) {
    this.weights = weights;
    this.costs = costs;
    this.units = units;
  }

  /** A unit with what its removal alone loses, in instructions, and saves, in estimated LUTs. */
  private record Saving(int unit, long loss, int luts) {

    double byLoss() {
      return luts / (loss + 0.5);
    }
  }

  /**
   * Removes rows until the estimate is in a room, and takes back what still fits.
   *
   * @param floor the instructions that the result must be exact for and more, or -1
   */
  Optional<LaneChoice> into(LaneChoice start, int room, long floor) {
    List<Saving> savings = savings(start, weights.exact(start) - floor - 1);
    List<Integer> byLoss = units(savings, Comparator.comparingLong(Saving::loss));
    List<Integer> bySaving =
        units(
            savings.stream().filter(s -> s.luts() > 0).toList(),
            Comparator.comparingDouble(Saving::byLoss).reversed());
    LaneChoice best = null;
    for (List<Integer> order : List.of(bySaving, byLoss)) {
      Optional<LaneChoice> found = fewestRemoved(start, order, room);
      if (found.isPresent()) {
        LaneChoice full = takeBack(found.get(), room);
        if (best == null || weights.exact(full) > weights.exact(best)) {
          best = full;
        }
      }
    }
    return Optional.ofNullable(best).filter(b -> weights.exact(b) > floor);
  }

  private static List<Integer> units(List<Saving> savings, Comparator<Saving> order) {
    return savings.stream()
        .sorted(order.thenComparingInt(Saving::unit))
        .map(Saving::unit)
        .toList();
  }

  /** Returns the units whose loss is within a bound, fewest instructions lost first. */
  private List<Saving> savings(LaneChoice start, long mostLoss) {
    long exact = weights.exact(start);
    List<Saving> candidates = new ArrayList<>();
    for (int unit = 0; unit < units; unit++) {
      long loss = exact - weights.exact(start.without(List.of(unit)));
      if (loss <= mostLoss) {
        candidates.add(new Saving(unit, loss, 0));
      }
    }
    candidates.sort(Comparator.comparingLong(Saving::loss).thenComparingInt(Saving::unit));
    List<Saving> tried = candidates.subList(0, Math.min(MOST_UNITS, candidates.size()));
    List<LaneChoice> choices = tried.stream().map(s -> start.without(List.of(s.unit()))).toList();
    Map<LaneChoice, Integer> estimates = costs.estimates(choices);
    int before = costs.estimate(start);
    List<Saving> savings = new ArrayList<>();
    for (int i = 0; i < tried.size(); i++) {
      savings.add(
          new Saving(
              tried.get(i).unit(), tried.get(i).loss(), before - estimates.get(choices.get(i))));
    }
    return savings;
  }

  /** Removes the first units of an order, as few as bisection finds to fit. */
  private Optional<LaneChoice> fewestRemoved(LaneChoice start, List<Integer> order, int room) {
    int low = 0;
    int high = order.size();
    if (costs.estimate(start.without(order)) > room) {
      return Optional.empty();
    }
    while (high - low > 1) {
      int middle = (low + high) >>> 1;
      if (costs.estimate(start.without(order.subList(0, middle))) <= room) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return Optional.of(start.without(order.subList(0, high)));
  }

  /** Takes units back, those first that are worth most, as long as the estimate is in the room. */
  private LaneChoice takeBack(LaneChoice found, int room) {
    long exact = weights.exact(found);
    List<Integer> removed =
        found.removed().stream()
            .boxed()
            .filter(u -> weights.exact(found.with(u)) > exact)
            .sorted(Comparator.comparingLong((Integer u) -> -weights.exact(found.with(u))))
            .toList();
    Map<LaneChoice, Integer> alone =
        costs.estimates(removed.stream().map(found::with).toList());
    LaneChoice best = found;
    for (int unit : removed) {
      if (alone.get(found.with(unit)) <= room && costs.estimate(best.with(unit)) <= room) {
        best = best.with(unit);
      }
    }
    return best;
  }

  /** Removes rows that save most for what they lose, as far as enough instructions stay exact. */
  List<LaneChoice> keeping(LaneChoice start, long needed) {
    List<Saving> savings = savings(start, weights.exact(start) - needed);
    List<Integer> order =
        units(
            savings.stream().filter(s -> s.luts() > 0).toList(),
            Comparator.comparingDouble(Saving::byLoss).reversed());
    List<LaneChoice> found = new ArrayList<>();
    LaneChoice current = start;
    for (int unit : order) {
      LaneChoice next = current.without(List.of(unit));
      if (weights.exact(next) >= needed) {
        current = next;
        found.add(next);
      }
    }
    // Savings overlap, so fewer removals may cost less; some of the way is looked at.
    List<LaneChoice> some = new ArrayList<>();
    for (int quarter = 1; quarter <= 4 && !found.isEmpty(); quarter++) {
      some.add(found.get((found.size() * quarter + 3) / 4 - 1));
    }
    return some.stream().distinct().toList();
  }
}

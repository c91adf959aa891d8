package dev.lengthwise.study.advice;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** Removes rows from a choice: to fit a room, or to be as small as an accuracy lets it. */
final class RowShrink {

  /** The most units that are taken back, those worth most first. */
  private static final int MOST_TAKEN_BACK = 16;

  /** The most units whose removal for others is tried, those lost least first. */
  private static final int MOST_SWAPPED = 8;

  /** The most swaps that are followed up. */
  private static final int MOST_SWAPS = 2;

  private final SearchWeights weights;
  private final SearchCosts costs;

  RowShrink(SearchWeights weights, SearchCosts costs) {
    this.weights = weights;
    this.costs = costs;
  }

  /**
   * Removes rows, those worth least first, until a choice is expected to fit a room; takes back
   * what still fits; and looks for a row that makes room for others worth more.
   *
   * @param floor what the result must be worth more than, or -1
   */
  Optional<LaneChoice> into(LaneChoice start, int room, double floor) {
    List<Integer> order = weights.handled(start);
    int most = order.size();
    while (most > 0 && weights.worth(start.without(order.subList(0, most))) <= floor) {
      most--;
    }
    Optional<LaneChoice> found = fewestRemoved(start, order.subList(0, most), room);
    if (found.isEmpty()) {
      return found;
    }
    LaneChoice best = takeBack(found.get(), room);
    return Optional.of(swapped(best, room)).filter(b -> weights.worth(b) > floor);
  }

  /** Removes the first units of an order, as few as bisection finds to fit. */
  private Optional<LaneChoice> fewestRemoved(LaneChoice start, List<Integer> order, int room) {
    if (costs.expected(start.without(order)) > room) {
      return Optional.empty();
    }
    int low = 0;
    int high = order.size();
    while (high - low > 1) {
      int middle = (low + high) >>> 1;
      if (costs.expected(start.without(order.subList(0, middle))) <= room) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return Optional.of(start.without(order.subList(0, high)));
  }

  /** Takes units back, those first that are worth most, as long as the choice is to fit. */
  private LaneChoice takeBack(LaneChoice found, int room) {
    List<List<Integer>> removed =
        worthMost(found, found.removed().stream().mapToObj(List::of), MOST_TAKEN_BACK);
    costs.expect(removed.stream().map(found::with).toList());
    LaneChoice best = found;
    for (List<Integer> units : removed) {
      if (costs.expected(found.with(units)) <= room && costs.expected(best.with(units)) <= room) {
        best = best.with(units);
      }
    }
    return best;
  }

  /** Returns those units whose return is worth most, as far as it is worth something. */
  private List<List<Integer>> worthMost(LaneChoice found, Stream<List<Integer>> units, int most) {
    double worth = weights.worth(found);
    return units
        .filter(u -> weights.worth(found.with(u)) > worth)
        .sorted(Comparator.comparingDouble((List<Integer> u) -> -weights.worth(found.with(u))))
        .limit(most)
        .toList();
  }

  /**
   * Takes units back, alone and with all their kin, as long as the choice fits in real LUTs. Kin
   * together may cost less than one of them, where opcodes make a pattern. Where costs are
   * measured, those that are not expected to fit are not realised.
   *
   * @param most how many are tried
   */
  LaneChoice filled(LaneChoice found, int room, int most) {
    Stream<List<Integer>> kin =
        weights.kin().stream()
            .map(units -> units.stream().filter(u -> found.removed().get(u)).toList())
            .filter(units -> units.size() > 1);
    List<List<Integer>> removed =
        worthMost(
            found,
            Stream.concat(found.removed().stream().mapToObj(List::of), kin)
                .filter(u -> !costs.isMeasured(found) || costs.expected(found.with(u)) <= room),
            most);
    costs.realize(removed.stream().map(found::with).toList());
    LaneChoice best = found;
    for (List<Integer> units : removed) {
      if (costs.luts(found.with(units)) <= room && costs.luts(best.with(units)) <= room) {
        best = best.with(units);
      }
    }
    return best;
  }

  /** Removes a unit that saves much for what it loses, if what then fits is worth more. */
  private LaneChoice swapped(LaneChoice found, int room) {
    double worth = weights.worth(found);
    List<LaneChoice> fewer =
        weights.handled(found).stream()
            .map(u -> found.without(List.of(u)))
            .filter(c -> weights.worth(c) < worth)
            .limit(MOST_SWAPPED)
            .toList();
    costs.expect(fewer);
    int before = costs.expected(found);
    List<LaneChoice> saving =
        fewer.stream()
            .filter(c -> costs.expected(c) < before)
            .sorted(
                Comparator.comparingDouble(
                    (LaneChoice c) -> (costs.expected(c) - before) / (worth - weights.worth(c))))
            .limit(MOST_SWAPS)
            .toList();
    LaneChoice best = found;
    for (LaneChoice choice : saving) {
      LaneChoice full = takeBack(choice, room);
      if (weights.worth(full) > weights.worth(best)) {
        best = full;
      }
    }
    return best;
  }

  /**
   * Removes rows, those worth least first, as far as enough instructions stay exact; returns the
   * end of that way and some places on it.
   */
  List<LaneChoice> keeping(LaneChoice start, long needed) {
    List<LaneChoice> way = new ArrayList<>();
    LaneChoice current = start;
    for (int unit : weights.handled(start)) {
      LaneChoice next = current.without(List.of(unit));
      if (weights.exact(next) >= needed) {
        current = next;
        way.add(next);
      }
    }
    List<LaneChoice> some = new ArrayList<>();
    for (int eighth = 1; eighth <= 8 && !way.isEmpty(); eighth++) {
      some.add(way.get((way.size() * eighth + 7) / 8 - 1));
    }
    return some.stream().distinct().toList();
  }
}

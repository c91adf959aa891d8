package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Function;

/**
 * Costs of a search's lanes: an estimate for all, which is the lane's LUTs in style {@link
 * Style#ROM}, and the style asked for where the search ends.
 */
final class SearchCosts implements AutoCloseable {

  private final Realizer realizer;
  private final Style style;
  private final Function<LaneChoice, Predecoder> lanes;
  private final ExecutorService pool;
  private final Map<LaneChoice, Integer> estimates = new ConcurrentHashMap<>();
  private final Map<LaneChoice, Design> designs = new HashMap<>();

  SearchCosts(
      Realizer realizer, Style style, int threads, Function<LaneChoice, Predecoder> lanes) {
    this.realizer = realizer;
    this.style = style;
    this.lanes = lanes;
    this.pool = Executors.newFixedThreadPool(threads);
  }

  /** Returns the estimate for a lane. */
  int estimate(LaneChoice choice) {
    Integer known = estimates.get(choice);
    if (known == null) {
      known = realizer.realize(lanes.apply(choice), Style.ROM).luts();
      estimates.put(choice, known);
    }
    return known;
  }

  /** Returns the estimates for lanes, worked out in parallel, in their order. */
  Map<LaneChoice, Integer> estimates(List<LaneChoice> choices) {
    List<Future<Integer>> work =
        choices.stream().map(c -> pool.submit(() -> estimate(c))).toList();
    Map<LaneChoice, Integer> found = new LinkedHashMap<>();
    for (int i = 0; i < choices.size(); i++) {
      found.put(choices.get(i), get(work.get(i)));
    }
    return found;
  }

  private static int get(Future<Integer> work) {
    try {
      return work.get();
    } catch (ExecutionException e) {
      throw e.getCause() instanceof RuntimeException cause
          ? cause
          : new IllegalStateException("search: a lane could not be estimated", e.getCause());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("search: broken off", e);
    }
  }

  /** Returns the lane in the style asked for. */
  Design design(LaneChoice choice) {
    return designs.computeIfAbsent(choice, c -> realizer.realize(lanes.apply(c), style));
  }

  int luts(LaneChoice choice) {
    return style == Style.ROM ? estimate(choice) : design(choice).luts();
  }

  int estimated() {
    return estimates.size();
  }

  int realized() {
    return designs.size();
  }

  @Override
  public void close() {
    pool.shutdownNow();
  }
}

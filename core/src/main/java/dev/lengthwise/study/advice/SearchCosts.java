package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.work.Workers;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;

/**
 * Costs of a search's lanes: real ones, in the style asked for, and expected ones, which are the
 * lane's LUTs in style {@link Style#ROM} times the scale that the last lane realised of the same
 * depth and folding had.
 */
final class SearchCosts implements AutoCloseable {

  private final Realizer realizer;
  private final Style style;
  private final Function<LaneChoice, Predecoder> lanes;
  private final Workers workers;
  private final Map<LaneChoice, Integer> roms = new ConcurrentHashMap<>();
  private final Map<LaneChoice, Integer> real = new ConcurrentHashMap<>();
  private final Map<LaneChoice, Design> designs = new ConcurrentHashMap<>();
  private final Map<Kind, Double> scales = new ConcurrentHashMap<>();

  /** Lanes that are alike enough for one scale. */
  private record Kind(int folded, SpecifierDepth depth) {

    static Kind of(LaneChoice choice) {
      return new Kind(choice.prefixes().most(), choice.depth());
    }
  }

  SearchCosts(Realizer realizer, Style style, int threads, Function<LaneChoice, Predecoder> lanes) {
    this.realizer = realizer;
    this.style = style;
    this.lanes = lanes;
    this.workers = Workers.of(threads);
  }

  /** Realises one lane of each kind, the first there is, for the scales. */
  void calibrate(List<LaneChoice> choices) {
    List<Kind> met = new ArrayList<>();
    List<Callable<Integer>> work = new ArrayList<>();
    for (LaneChoice choice : choices) {
      if (style != Style.ROM && !met.contains(Kind.of(choice))) {
        met.add(Kind.of(choice));
        work.add(() -> luts(choice));
      }
    }
    all(work);
  }

  /** Returns the LUTs that a lane is expected to have; the real ones if it was realised. */
  int expected(LaneChoice choice) {
    Integer known = real.get(choice);
    return known != null
        ? known
        : (int) Math.round(rom(choice) * scales.getOrDefault(Kind.of(choice), 1.0));
  }

  /** Works out the expected LUTs of lanes in parallel. */
  void expect(List<LaneChoice> choices) {
    all(choices.stream().<Callable<Integer>>map(c -> () -> rom(c)).toList());
  }

  /** Realises lanes in parallel. */
  void realize(List<LaneChoice> choices) {
    all(choices.stream().<Callable<Integer>>map(c -> () -> luts(c)).toList());
  }

  private int rom(LaneChoice choice) {
    Integer known = roms.get(choice);
    if (known == null) {
      known = realizer.realize(lanes.apply(choice), Style.ROM).unprovedTotal().luts();
      roms.put(choice, known);
    }
    return known;
  }

  /** Returns the LUTs of a lane in the style asked for; its kind's scale becomes the lane's. */
  int luts(LaneChoice choice) {
    Integer known = real.get(choice);
    if (known == null) {
      known = style == Style.ROM ? rom(choice) : design(choice).unprovedTotal().luts();
      scales.put(Kind.of(choice), known / (double) rom(choice));
      real.put(choice, known);
    }
    return known;
  }

  boolean isRealized(LaneChoice choice) {
    return real.containsKey(choice);
  }

  /** Returns the lane in the style asked for. */
  Design design(LaneChoice choice) {
    return Optional.ofNullable(designs.get(choice))
        .orElseGet(
            () -> {
              Design design = realizer.realize(lanes.apply(choice), style);
              designs.put(choice, design);
              return design;
            });
  }

  int estimated() {
    return roms.size();
  }

  int realized() {
    return designs.size();
  }

  private void all(List<Callable<Integer>> work) {
    work.stream().map(workers::start).toList().forEach(Workers::result);
  }

  @Override
  public void close() {
    workers.close();
  }
}

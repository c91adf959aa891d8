package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.work.Workers;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;

/**
 * Costs of a search's lanes: real ones, in the style asked for, and expected ones, which are a
 * rough cost times the scale that the last lane realised of the same kind had.
 *
 * <p>The rough cost of a LUT network is {@link NetworkShape#luts}; of any other style, and where
 * code units are words, the lane's LUTs in style {@link Style#ROM}, which say nothing of a network:
 * rows that are left out make a ROM smaller and a network larger.
 */
final class SearchCosts implements AutoCloseable {

  /** How far measured costs are above real ones, of three lanes in four at most. */
  private static final double MARGIN = 1.2;

  private final Realizer realizer;
  private final Style style;
  private final BitSet opening;
  private final Function<LaneChoice, Predecoder> lanes;
  private final Workers workers;
  private final Map<LaneChoice, Integer> rough = new ConcurrentHashMap<>();
  private final Map<LaneChoice, Integer> real = new ConcurrentHashMap<>();
  private final Map<LaneChoice, Design> designs = new ConcurrentHashMap<>();
  private final Map<Kind, Double> scales = new ConcurrentHashMap<>();

  /**
   * Lanes that are alike enough for one scale. Networks are if they read the same maps, because the
   * mapper may find codes for some maps and not for others.
   */
  private record Kind(int folded, SpecifierDepth depth, BitSet closed) {}

  /**
   * Starts without costs.
   *
   * @param opening the units that lead to other maps, as bits
   */
  SearchCosts(
      Realizer realizer,
      Style style,
      int threads,
      BitSet opening,
      Function<LaneChoice, Predecoder> lanes) {
    this.realizer = realizer;
    this.style = style;
    this.opening = (BitSet) opening.clone();
    this.lanes = lanes;
    this.workers = Workers.of(threads);
  }

  private Kind kind(LaneChoice choice) {
    BitSet closed = new BitSet();
    if (isMeasured(choice)) {
      closed.or(choice.removed());
      closed.and(opening);
    }
    return new Kind(choice.prefixes().most(), choice.depth(), closed);
  }

  /** Realises one lane of each kind, the first there is, for the scales of costs not measured. */
  void calibrate(List<LaneChoice> choices) {
    List<Kind> met = new ArrayList<>();
    List<Callable<Integer>> work = new ArrayList<>();
    for (LaneChoice choice : choices) {
      if (style != Style.ROM && !isMeasured(choice) && !met.contains(kind(choice))) {
        met.add(kind(choice));
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
        : (int) Math.round(rough(choice) * scales.getOrDefault(kind(choice), 1.0));
  }

  /**
   * Tells whether a lane may have so many LUTs at most: what is only measured may be smaller than
   * it is expected to be, and is worth realising.
   */
  boolean mayFit(LaneChoice choice, int room) {
    boolean isGuess = isMeasured(choice) && !isRealized(choice);
    return expected(choice) <= (isGuess ? MARGIN * room : room);
  }

  /** Works out the expected LUTs of lanes in parallel. */
  void expect(List<LaneChoice> choices) {
    all(choices.stream().<Callable<Integer>>map(c -> () -> rough(c)).toList());
  }

  /** Realises lanes in parallel. */
  void realize(List<LaneChoice> choices) {
    all(choices.stream().<Callable<Integer>>map(c -> () -> luts(c)).toList());
  }

  /** Tells whether the rough costs of lanes are measured, and realising one takes long. */
  boolean isMeasured(LaneChoice choice) {
    return style == Style.LUT_NETWORK && NetworkShape.measures(lanes.apply(choice));
  }

  private int rough(LaneChoice choice) {
    Integer known = rough.get(choice);
    if (known == null) {
      Predecoder lane = lanes.apply(choice);
      known =
          isMeasured(choice)
              ? NetworkShape.luts(lane)
              : realizer.realize(lane, Style.ROM).unprovedTotal().luts();
      rough.put(choice, known);
    }
    return known;
  }

  /** Returns the LUTs of a lane in the style asked for; its kind's scale becomes the lane's. */
  int luts(LaneChoice choice) {
    Integer known = real.get(choice);
    if (known == null) {
      known = style == Style.ROM ? rough(choice) : design(choice).unprovedTotal().luts();
      scales.put(kind(choice), known / (double) rough(choice));
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
    return rough.size();
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

package dev.lengthwise.lane;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.lane.compose.AlignedLane;
import dev.lengthwise.lane.compose.HandledLane;
import dev.lengthwise.lane.compose.PartMapper;
import dev.lengthwise.lane.encode.CodeSearch;
import dev.lengthwise.lane.function.AlignedFunction;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LaneShrink;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.work.Work;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Maps a lane to LUTs: by codes chosen across its blocks, or composed of smaller lanes; then across
 * all of them. Work is counted in attempts, so a result depends on the arguments only.
 */
public final class LaneMapper {

  /** The most LUTs looked at to shrink a lane: in a large one each takes longer. */
  private static final int MOST_STEPS = 1_000_000;

  /**
   * The levels that a walk may have beyond its start where LUTs count first and are small: so lanes
   * took up to 6% fewer LUTs of four inputs, but no fewer of six.
   */
  private static final int SPARE_LEVELS = 4;

  private static final int MOST_INPUTS_FOR_SPARE_LEVELS = 5;

  /** The searches for a level less that may fail. */
  private static final int LEVEL_SEARCHES = 2;

  /** The LUTs up to which a search for a level less takes a second or two if it fails. */
  private static final int FEW_LUTS = 8;

  /** The most maps that one map escapes to: their codes meet in one table before it is split. */
  private static final int MOST_ESCAPES = 12;

  /** The places of a specifier from which on it may be brought to one place first. */
  private static final int LEAST_PLACES = 3;

  private LaneMapper() {}

  /**
   * Maps a lane.
   *
   * @param shape the function
   * @param settings what for, and how much to search
   * @param mostLevels the levels beyond which no walk for fewer LUTs goes; codes may need more
   * @return the mapping, proved; empty if no codes were found with that effort. Where one map
   *     escapes to more than {@value #MOST_ESCAPES} others, it is found only if LUTs count first
   *     and those differ, but for so many, in what is handled alone
   * @throws CancelledException if the thread is interrupted
   */
  public static Optional<LaneMapping> map(
      LaneFunction shape, MapperSettings settings, int mostLevels) {
    return Work.parallel(() -> best(shape, settings, mostLevels));
  }

  /** Maps by codes, or composes the lane of others where there are too many maps or places. */
  private static Optional<LaneMapping> best(
      LaneFunction shape, MapperSettings settings, int mostLevels) {
    boolean lutsFirst = settings.objective() == Objective.AREA;
    PartMapper shrunk = (part, inputs) -> best(part, reading(settings, inputs), mostLevels);
    if (shape.codedMaps().stream().anyMatch(map -> escapes(map) > MOST_ESCAPES)) {
      return lutsFirst
          ? HandledLane.map(shape, settings, shrunk).map(own -> shrink(own, settings, mostLevels))
          : Optional.empty();
    }
    // Where levels count first, they are won back across the parts.
    PartMapper coded = (part, inputs) -> new CodeSearch(part, reading(settings, inputs)).run();
    Optional<LaneMapping> aligned =
        AlignedFunction.of(shape)
            .filter(parted -> parted.offsets().size() >= LEAST_PLACES)
            .flatMap(
                parted -> AlignedLane.map(shape, parted, settings, lutsFirst ? shrunk : coded));
    Optional<LaneMapping> found =
        aligned.isPresent() && lutsFirst
            ? aligned
            : new CodeSearch(shape, settings)
                .run()
                .map(plain -> aligned.map(own -> level(own, plain, settings)).orElse(plain));
    return found.map(own -> shrink(own, settings, mostLevels));
  }

  private static MapperSettings reading(MapperSettings settings, int... inputs) {
    return settings.with(settings.delays().ofInputs(inputs));
  }

  /**
   * Returns the aligned lane, which has a level more to go through but often fewer LUTs, if it is
   * better once that level is won back.
   */
  private static LaneMapping level(
      LaneMapping aligned, LaneMapping coded, MapperSettings settings) {
    int levels = settings.delays().levels(coded.network());
    LaneMapping flat =
        settings.delays().levels(aligned.network()) > levels
            ? flatten(aligned, levels, settings)
            : aligned;
    return flat.isBetterThan(coded, settings.order()) ? flat : coded;
  }

  /**
   * Shrinks a mapping across its blocks. Where LUTs count first and are small, the result may have
   * some levels more.
   *
   * @param mapping a mapping, found in any way
   * @param settings no fewer LUT inputs than any LUT of the mapping has; the listener is told after
   *     each round of rewriting
   * @param mostLevels the levels beyond which the result has none that the mapping has not
   * @return a mapping, proved, of no more LUTs; of no more levels unless it has fewer LUTs
   * @throws CancelledException if the thread is interrupted
   */
  public static LaneMapping shrink(LaneMapping mapping, MapperSettings settings, int mostLevels) {
    int steps = steps(mapping, settings.effort().looks());
    int delay = settings.delays().delay(mapping.network());
    boolean deepens =
        settings.objective() == Objective.AREA
            && settings.lutInputs() <= MOST_INPUTS_FOR_SPARE_LEVELS;
    int room = Math.max(0, settings.delayOf(mostLevels) - delay);
    int spare = deepens ? Math.min(settings.delayOf(SPARE_LEVELS), room) : 0;
    return Work.parallel(() -> rewriter(mapping, settings).run(mapping, steps, spare));
  }

  /**
   * Lowers the levels of a mapping, by further LUTs where it must, and shrinks it again.
   *
   * @param mapping a mapping, found in any way
   * @param mostLevels the levels at which to stop, at least 1
   * @param settings see {@link #shrink}
   * @return a mapping of no more levels, proved; of more than {@code mostLevels} if none was found
   * @throws CancelledException if the thread is interrupted
   */
  public static LaneMapping flatten(LaneMapping mapping, int mostLevels, MapperSettings settings) {
    LaneMapping flat = flatten(mapping, mostLevels, settings, LEVEL_SEARCHES);
    return shrink(flat, settings, mostLevels);
  }

  /**
   * Lowers the levels of a mapping of few LUTs as far as is found at once: in larger ones that
   * takes longer than to map them.
   *
   * @param mapping a mapping, found in any way
   * @param settings see {@link #shrink}
   * @return a mapping of fewer levels if it was found, proved
   * @throws CancelledException if the thread is interrupted
   */
  public static LaneMapping flattenSmall(LaneMapping mapping, MapperSettings settings) {
    return mapping.network().luts().size() > FEW_LUTS ? mapping : flatten(mapping, 1, settings, 1);
  }

  private static LaneMapping flatten(
      LaneMapping mapping, int mostLevels, MapperSettings settings, int searches) {
    Effort effort = settings.effort();
    var search =
        new LaneShrink.LevelSearch(
            searches, effort.levelTries(), steps(mapping, effort.looksALevel()));
    int mostDelay = settings.delayOf(mostLevels);
    return Work.parallel(() -> rewriter(mapping, settings).flatten(mapping, mostDelay, search));
  }

  private static int steps(LaneMapping mapping, int looks) {
    return Math.min(MOST_STEPS, looks * mapping.network().luts().size());
  }

  private static LaneShrink rewriter(LaneMapping mapping, MapperSettings settings) {
    AtomicInteger rounds = new AtomicInteger();
    return new LaneShrink(
        mapping.shape(),
        settings.lutInputs(),
        settings.delays(),
        settings.seed(),
        luts -> {
          int round = rounds.incrementAndGet();
          Work.tell(() -> settings.progress().report(round, luts));
        });
  }

  private static long escapes(LaneFunction.CodeMap map) {
    return map.outcomes().stream().filter(LaneFunction.Escape.class::isInstance).distinct().count();
  }
}

package dev.lengthwise.study.advice;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.workload.StudyStream;
import java.util.List;
import java.util.Objects;

/**
 * Searches for the lane that is exact for most of code like a stream within a number of LUTs, or
 * for the one of fewest LUTs that is exact for a share of it.
 *
 * <p>What counts within a number of LUTs is the share of unseen code that a lane is expected to be
 * exact for. It is a mixture of what the stream executes, of its distinct instructions, and of rows
 * that it does not use; in which parts is found by foretelling each fifth of the code from the rest
 * of it ("deleted interpolation", Jelinek and Mercer 1980), so that no second stream is looked at.
 * It holds for code of the kind of the stream, not for code that is written or compiled otherwise.
 *
 * <p>The search chooses among treatments of prefixes, depths, longest lengths and, for each group
 * of opcodes that a map gives one row, whether it is handled. It starts with every treatment and
 * depth and all rows; from those that are too large it removes what is worth least, then takes back
 * what still fits. Costs are estimated, by the LUTs of the lane in style {@link Style#ROM}, as
 * realising every candidate in another style would take seconds to minutes each; so one start of
 * each depth and a few finalists are realised in the style asked for, for the scale between the
 * two, and what else fits is added to the best of those that really fit. In style {@link
 * Style#LUT_NETWORK}, where leaving single rows out makes a lane larger, costs are estimated by how
 * many columns and outcomes its maps have, whole maps are closed before rows are left out, and
 * finalists alone are realised. It is a heuristic: no better one that the search did not see is
 * ruled out. The same arguments give the same answer. Immutable.
 */
public final class Advisor {

  private final StudyStream stream;
  private final Realizer realizer;
  private final SearchSpace space;
  private final int finalists;
  private final int threads;

  private Advisor(
      StudyStream stream, Realizer realizer, SearchSpace space, int finalists, int threads) {
    this.stream = Objects.requireNonNull(stream, "stream");
    this.realizer = Objects.requireNonNull(realizer, "realizer");
    this.space = space;
    this.finalists = finalists;
    this.threads = threads;
  }

  /**
   * Returns an advisor that tries prefixes not handled and one unit each, all depths, answers "not
   * handled" where no opcode is defined, realises up to 4 finalists, and uses a thread for each
   * processor.
   *
   * @param stream the stream that decides
   * @param realizer makes lanes
   * @param style the style that costs count in
   * @return the advisor
   */
  public static Advisor on(StudyStream stream, Realizer realizer, Style style) {
    return new Advisor(
        stream,
        realizer,
        new SearchSpace(
            style,
            List.of(PrefixTreatment.NOT_HANDLED, PrefixTreatment.ONE_UNIT_EACH),
            List.of(SpecifierDepth.values()),
            UndefinedRows.NOT_HANDLED),
        4,
        Runtime.getRuntime().availableProcessors());
  }

  /**
   * Returns an advisor that tries other treatments of prefixes.
   *
   * @param treatments at least one
   * @return a new advisor
   * @throws IllegalArgumentException if there is none
   */
  public Advisor withPrefixes(PrefixTreatment... treatments) {
    if (treatments.length == 0) {
      throw new IllegalArgumentException(
          "advisor: a prefix treatment is expected at least once, found none");
    }
    return with(
        new SearchSpace(space.style(), List.of(treatments), space.depths(), space.undefined()));
  }

  /**
   * Returns an advisor that tries other depths.
   *
   * @param values at least one
   * @return a new advisor
   * @throws IllegalArgumentException if there is none
   */
  public Advisor withDepths(SpecifierDepth... values) {
    if (values.length == 0) {
      throw new IllegalArgumentException("advisor: a depth is expected at least once, found none");
    }
    return with(
        new SearchSpace(space.style(), space.prefixes(), List.of(values), space.undefined()));
  }

  /**
   * Returns an advisor whose lanes give another answer where no opcode is defined.
   *
   * @param value the answer
   * @return a new advisor
   */
  public Advisor withUndefinedRows(UndefinedRows value) {
    return with(new SearchSpace(space.style(), space.prefixes(), space.depths(), value));
  }

  /**
   * Returns an advisor that realises more or fewer finalists, and three times as many additions to
   * the best of them at a time.
   *
   * @param most at least 1
   * @return a new advisor
   * @throws IllegalArgumentException if it is less
   */
  public Advisor withFinalists(int most) {
    if (most < 1) {
      throw new IllegalArgumentException("advisor: finalists must be at least 1, found " + most);
    }
    return new Advisor(stream, realizer, space, most, threads);
  }

  /**
   * Returns an advisor that works with other threads.
   *
   * @param count at least 1
   * @return a new advisor
   * @throws IllegalArgumentException if it is less
   */
  public Advisor withThreads(int count) {
    if (count < 1) {
      throw new IllegalArgumentException("advisor: threads must be at least 1, found " + count);
    }
    return new Advisor(stream, realizer, space, finalists, count);
  }

  /**
   * Searches for the lane that is expected to be exact most often.
   *
   * @param name the lane's name, legal in RTL
   * @param luts the most LUTs of a lane, at least 1
   * @return a lane of at most so many LUTs
   * @throws IllegalArgumentException if the name is not legal or there are no LUTs
   * @throws IllegalStateException if the search found none that fits
   * @throws CancelledException if the thread is interrupted
   */
  public Advice within(String name, int luts) {
    if (luts < 1) {
      throw new IllegalArgumentException("advisor: LUTs must be at least 1, found " + luts);
    }
    try (AdviceSearch search = search(name)) {
      return search.within(luts, finalists);
    }
  }

  /**
   * Searches for the lane of fewest LUTs.
   *
   * @param name the lane's name, legal in RTL
   * @param exactShare the share of the stream that it must be exact for, in (0, 1]
   * @return a lane that is exact for that share
   * @throws IllegalArgumentException if the name is not legal or the share is out of range
   * @throws IllegalStateException if no lane of the treatments and depths reaches the share
   * @throws CancelledException if the thread is interrupted
   */
  public Advice reaching(String name, double exactShare) {
    Objects.requireNonNull(name, "name");
    if (!(exactShare > 0 && exactShare <= 1)) {
      throw new IllegalArgumentException(
          "advisor: the exact share must be in (0, 1], found " + exactShare);
    }
    try (AdviceSearch search = search(name)) {
      return search.reaching(exactShare, finalists);
    }
  }

  private Advisor with(SearchSpace other) {
    return new Advisor(stream, realizer, other, finalists, threads);
  }

  private AdviceSearch search(String name) {
    return new AdviceSearch(name, stream, realizer, space, threads);
  }
}

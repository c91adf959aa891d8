package dev.lengthwise.logic.map;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleConsumer;
import java.util.function.LongFunction;

/** Searches until a time is over: walks that set out from the best, and now and then new starts. */
final class TimedSearch {

  /** One round of so many starts anew. */
  private static final int ROUNDS_A_START = 4;

  private final Comparator<LutNetwork> order;
  private final LongFunction<LutNetwork> map;
  private final LongFunction<Race> race;
  private final DoubleConsumer progress;
  private final List<String> account = new ArrayList<>();
  private LutNetwork best;

  /**
   * Prepares a search.
   *
   * @param order the better network first
   * @param map maps with a seed
   * @param race lets networks walk with a seed
   * @param progress is told which share of the time is over
   */
  TimedSearch(
      Comparator<LutNetwork> order,
      LongFunction<LutNetwork> map,
      LongFunction<Race> race,
      DoubleConsumer progress) {
    this.order = order;
    this.map = map;
    this.race = race;
    this.progress = progress;
  }

  TimedMapping run(long seed, long nanos) {
    long start = System.nanoTime();
    best = map.apply(seed);
    long first = System.nanoTime() - start;
    account.add("first: " + size(best));
    int walks = 0;
    int starts = 0;
    boolean interrupted = false;
    try {
      for (long over = first; over < nanos; over = System.nanoTime() - start) {
        progress.accept((double) over / nanos);
        int round = walks + starts + 1;
        long left = nanos - over;
        if (round % ROUNDS_A_START == 0 && left > 2 * first) {
          starts++;
          take(map.apply(seed + round), "new starts", round);
        } else {
          walks++;
          long end = start + nanos;
          LutNetwork from = best;
          Race walking = race.apply(seed + round);
          take(Work.parallel(() -> walking.walkOn(from, end)), "walks", round);
        }
      }
      progress.accept(1.0);
    } catch (CancelledException e) {
      interrupted = true;
    }
    account.add(
        String.format(
            Locale.ROOT,
            "%d rounds of walks from the best and %d of new starts, %s",
            walks,
            starts,
            interrupted ? "interrupted" : "until the time was over"));
    return new TimedMapping(best, account, interrupted);
  }

  private void take(LutNetwork found, String what, int round) {
    if (order.compare(found, best) < 0) {
      best = found;
      account.add("round " + round + ", " + what + ": " + size(best));
    }
  }

  private static String size(LutNetwork network) {
    return network.luts().size() + " LUTs, " + network.levels() + " levels";
  }
}

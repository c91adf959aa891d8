package dev.lengthwise.work;

import dev.lengthwise.cancel.CancelledException;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleConsumer;
import java.util.function.Function;

/**
 * Searches until a time is over: goes on from the best, and now and then starts anew.
 *
 * @param <T> what is searched for
 */
public final class TimedSearch<T> {

  /** One round of so many starts anew. */
  private static final int ROUNDS_A_START = 4;

  /** A time that no search outlives, in nanoseconds. */
  private static final long LONGEST = Long.MAX_VALUE / 4;

  /**
   * How one kind of thing is searched for.
   *
   * @param <T> the kind
   */
  public interface Steps<T> {

    /**
     * Returns a result of a search that starts anew.
     *
     * @param seed what its draws start from
     * @return the result
     */
    T start(long seed);

    /**
     * Goes on from a result.
     *
     * @param best the result
     * @param seed what the draws start from
     * @param end when to end, as {@link System#nanoTime} counts, if it can be ended early
     * @return a result, no worse
     */
    T goOn(T best, long seed, long end);
  }

  private final Steps<T> steps;
  private final Comparator<T> order;
  private final Function<T, String> words;
  private final long seed;
  private final List<String> account = new ArrayList<>();
  private T best;
  private boolean interrupted;

  /**
   * Prepares a search.
   *
   * @param steps how to search
   * @param order the better result first
   * @param words says how good a result is
   * @param seed what the draws start from
   */
  public TimedSearch(Steps<T> steps, Comparator<T> order, Function<T, String> words, long seed) {
    this.steps = steps;
    this.order = order;
    this.words = words;
    this.seed = seed;
  }

  /**
   * Searches. If the thread is interrupted after the first result, the search is over and the flag
   * stays set.
   *
   * @param time how long to search at least; the first result takes what it takes
   * @param progress is told which share of the time is over
   * @return the best result, the first of equal ones
   * @throws CancelledException if the thread is interrupted before there is a result
   */
  public T run(Duration time, DoubleConsumer progress) {
    long nanos = time.compareTo(Duration.ofNanos(LONGEST)) > 0 ? LONGEST : time.toNanos();
    long start = System.nanoTime();
    best = steps.start(seed);
    long first = System.nanoTime() - start;
    account.add("first: " + words.apply(best));
    int onward = 0;
    int anew = 0;
    try {
      for (long over = first; over < nanos; over = System.nanoTime() - start) {
        progress.accept((double) over / nanos);
        int round = onward + anew + 1;
        if (round % ROUNDS_A_START == 0 && nanos - over > 2 * first) {
          anew++;
          take(steps.start(seed + round), "new starts", round);
        } else {
          onward++;
          take(steps.goOn(best, seed + round, start + nanos), "from the best", round);
        }
      }
      progress.accept(1.0);
    } catch (CancelledException e) {
      interrupted = true;
    }
    account.add(
        String.format(
            Locale.ROOT,
            "%d rounds from the best and %d of new starts, %s",
            onward,
            anew,
            interrupted ? "interrupted" : "until the time was over"));
    return best;
  }

  private void take(T found, String what, int round) {
    if (order.compare(found, best) < 0) {
      best = found;
      account.add("round " + round + ", " + what + ": " + words.apply(best));
    }
  }

  /**
   * Returns what was tried.
   *
   * @return lines, in the order in which it was
   */
  public List<String> account() {
    return List.copyOf(account);
  }

  /**
   * Tells whether the time was cut short.
   *
   * @return true if the thread was interrupted
   */
  public boolean isInterrupted() {
    return interrupted;
  }
}

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
  private final long started;
  private final long first;
  private final List<String> account = new ArrayList<>();
  private T best;
  private boolean interrupted;

  /**
   * Finds the first result.
   *
   * @param steps how to search
   * @param order the better result first
   * @param words says how good a result is
   * @param seed what the draws start from
   * @throws CancelledException if the thread is interrupted
   */
  public TimedSearch(Steps<T> steps, Comparator<T> order, Function<T, String> words, long seed) {
    this.steps = steps;
    this.order = order;
    this.words = words;
    this.started = System.nanoTime();
    this.seed = seed;
    this.best = steps.start(seed);
    this.first = System.nanoTime() - started;
    account.add("first: " + words.apply(best));
  }

  /**
   * Searches on. If the thread is interrupted, the search is over and the flag stays set.
   *
   * @param time how long to search at least, the time for the first result included
   * @param progress is told which share of the time is over
   */
  public void run(Duration time, DoubleConsumer progress) {
    long nanos = time.compareTo(Duration.ofNanos(LONGEST)) > 0 ? LONGEST : time.toNanos();
    int onward = 0;
    int anew = 0;
    try {
      for (long over = first; over < nanos; over = System.nanoTime() - started) {
        progress.accept((double) over / nanos);
        int round = onward + anew + 1;
        if (round % ROUNDS_A_START == 0 && nanos - over > 2 * first) {
          anew++;
          take(steps.start(seed + round), "new starts", round);
        } else {
          onward++;
          take(steps.goOn(best, seed + round, started + nanos), "from the best", round);
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
  }

  private void take(T found, String what, int round) {
    if (order.compare(found, best) < 0) {
      best = found;
      account.add("round " + round + ", " + what + ": " + words.apply(best));
    }
  }

  /**
   * Returns the best result.
   *
   * @return the first of equal ones
   */
  public T best() {
    return best;
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

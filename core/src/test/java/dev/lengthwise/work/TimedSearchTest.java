package dev.lengthwise.work;

import static com.google.common.truth.Truth.assertThat;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;

/** Numbers stand for what is searched for; smaller ones are better. */
class TimedSearchTest {

  private final List<String> calls = new ArrayList<>();

  @AfterEach
  void clear() {
    Thread.interrupted();
  }

  private TimedSearch<Integer> search(int interruptedAt) {
    TimedSearch.Steps<Integer> steps =
        new TimedSearch.Steps<>() {
          @Override
          public Integer start(long seed) {
            calls.add("start " + seed);
            return 100 - (int) seed;
          }

          @Override
          public Integer goOn(Integer best, long seed, long end) {
            calls.add("go on " + best);
            if (calls.size() == interruptedAt) {
              throw Work.cancelled(new InterruptedException());
            }
            sleep();
            return best + (seed == 7 ? 5 : 0);
          }
        };
    return new TimedSearch<>(steps, Comparator.naturalOrder(), n -> n + " LUTs", 5);
  }

  private static void sleep() {
    try {
      Thread.sleep(20);
    } catch (InterruptedException e) {
      throw Work.cancelled(e);
    }
  }

  @Test
  void run_aTime_goesOnFromTheBestAndStartsAnew() {
    TimedSearch<Integer> search = search(-1);
    List<Double> shares = new ArrayList<>();
    int best = search.run(Duration.ofSeconds(1), shares::add);
    assertThat(calls.subList(0, 6))
        .containsExactly("start 5", "go on 95", "go on 95", "go on 95", "start 9", "go on 91")
        .inOrder();
    assertThat(best).isEqualTo(100 - 5 - 4 * (int) anew());
    assertThat(search.isInterrupted()).isFalse();
    assertThat(search.account().get(0)).isEqualTo("first: 95 LUTs");
    assertThat(search.account().get(1)).isEqualTo("round 4, new starts: 91 LUTs");
    assertThat(search.account().get(search.account().size() - 1))
        .isEqualTo(
            (calls.size() - 1 - anew())
                + " rounds from the best and "
                + anew()
                + " of new starts, until the time was over");
    assertThat(shares).isInStrictOrder();
    assertThat(shares.get(shares.size() - 1)).isEqualTo(1.0);
  }

  private long anew() {
    return calls.stream().skip(1).filter(call -> call.startsWith("start")).count();
  }

  @Test
  void run_interrupted_keepsTheBestAndTheFlag() {
    TimedSearch<Integer> search = search(3);
    assertThat(search.run(Duration.ofSeconds(Long.MAX_VALUE), share -> {})).isEqualTo(95);
    assertThat(search.isInterrupted()).isTrue();
    assertThat(Thread.currentThread().isInterrupted()).isTrue();
    assertThat(search.account())
        .containsExactly(
            "first: 95 LUTs", "2 rounds from the best and 0 of new starts, interrupted")
        .inOrder();
  }

  @Test
  void run_noTimeLeft_keepsTheFirst() {
    TimedSearch<Integer> search = search(-1);
    assertThat(search.run(Duration.ofNanos(1), share -> {})).isEqualTo(95);
    assertThat(calls).containsExactly("start 5");
  }
}

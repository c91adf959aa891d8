package dev.lengthwise.work;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import dev.lengthwise.testing.Timed;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.function.IntConsumer;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class WorkTest {

  /**
   * As a build script has it: the work is begun, with a listener, by a class in its first lines.
   */
  private static final class Script {

    private static final List<Integer> HEARD = new ArrayList<>();

    private static final int SUM = sum(number -> HEARD.add(number));
  }

  private static int sum(IntConsumer listener) {
    return Work.parallel(
        () ->
            IntStream.range(0, 100)
                .parallel()
                .peek(i -> Work.tell(() -> listener.accept(i)))
                .sum());
  }

  @Test
  @Timed
  void parallel_listenerOfAClassThatIsBeingInitialised_isToldByTheCaller() {
    assertTimeoutPreemptively(Duration.ofSeconds(20), () -> assertThat(Script.SUM).isEqualTo(4950));
    assertThat(Script.HEARD).hasSize(100);
  }

  @Test
  void parallel_listener_isToldOnTheThreadOfTheCaller() {
    List<Thread> threads = new ArrayList<>();
    Work.parallel(
        () -> {
          Work.tell(() -> threads.add(Thread.currentThread()));
          return 0;
        });
    assertThat(threads).containsExactly(Thread.currentThread());
  }

  @Test
  void parallel_listenerThatFails_endsTheWork() {
    IllegalStateException failure =
        assertThrows(
            IllegalStateException.class,
            () ->
                Work.parallel(
                    () -> {
                      Work.tell(
                          () -> {
                            throw new IllegalStateException("listener: enough");
                          });
                      while (true) {
                        Work.check();
                      }
                    }));
    assertThat(failure).hasMessageThat().isEqualTo("listener: enough");
  }

  @Test
  void tell_outsideOfWork_isToldAtOnce() {
    List<String> heard = new ArrayList<>();
    Work.tell(() -> heard.add("news"));
    assertThat(heard).containsExactly("news");
  }
}

package dev.lengthwise.work;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cancel.CancelledException;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class RememberedTest {

  private final Remembered<List<Integer>, String> remembered = new Remembered<>(2);
  private final List<Integer> worked = new ArrayList<>();

  private String ask(int question) {
    return remembered.answer(
        List.of(question),
        () -> {
          worked.add(question);
          return "answer " + question;
        });
  }

  @Test
  void answer_equalQuestion_isWorkedOutOnce() {
    assertThat(ask(1)).isEqualTo("answer 1");
    assertThat(ask(2)).isEqualTo("answer 2");
    assertThat(ask(1)).isEqualTo("answer 1");
    assertThat(worked).containsExactly(1, 2).inOrder();
  }

  @Test
  void answer_moreThanAreKept_forgetsTheOneAskedTheLongestAgo() {
    ask(1);
    ask(2);
    ask(1);
    ask(3);
    ask(1);
    assertThat(worked).containsExactly(1, 2, 3).inOrder();
    assertThat(ask(2)).isEqualTo("answer 2");
    assertThat(worked).containsExactly(1, 2, 3, 2).inOrder();
  }

  @Test
  void answer_failure_isNotRemembered() {
    IllegalStateException failure =
        assertThrows(
            IllegalStateException.class,
            () ->
                remembered.answer(
                    List.of(1),
                    () -> {
                      throw new IllegalStateException("no answer");
                    }));
    assertThat(failure).hasMessageThat().isEqualTo("no answer");
    assertThat(ask(1)).isEqualTo("answer 1");
  }

  @Test
  void answer_interrupted_isCancelledThoughItIsKnown() {
    ask(1);
    Thread.currentThread().interrupt();
    try {
      assertThrows(CancelledException.class, () -> ask(1));
    } finally {
      assertThat(Thread.interrupted()).isTrue();
    }
  }
}
